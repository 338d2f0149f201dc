"""A job's activities, links and agreed days: the page with its chart, the chance of finishing, crew clashes."""
