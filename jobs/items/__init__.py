"""What a job buys beside its walls, by count or by rule."""
