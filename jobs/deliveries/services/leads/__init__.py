"""The lead-time record as a sheet."""
