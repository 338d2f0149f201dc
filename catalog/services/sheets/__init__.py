"""What is kept of suppliers, lead times and the lead-time record as sheets, in and out, as materials are."""
