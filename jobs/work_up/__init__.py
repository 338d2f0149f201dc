"""Stored jobs worked up: walls once for each process, limits on what is computed, findings by what a role may see."""
