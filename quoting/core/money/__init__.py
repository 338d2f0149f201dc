"""What a job cost, what it will cost, where the margin went, what is billed and what the record teaches."""
