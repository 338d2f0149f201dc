"""A wall worked up whole, and the lines and purchases of a job, each with its explanation."""
