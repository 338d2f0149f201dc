"""Hours worked, bills, and what was ordered and received against them, as plain rows of one job."""
