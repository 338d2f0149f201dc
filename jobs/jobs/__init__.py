"""Clients and jobs: their rows, the list, versions, and what counts as a change of a job."""
