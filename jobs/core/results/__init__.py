"""Results as JSON values, the same for the command, the API and the pages."""
