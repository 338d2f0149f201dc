"""The catalog's figures and rules as plain Python."""
