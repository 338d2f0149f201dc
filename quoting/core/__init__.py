"""Prices, quotes and change notes as plain Python; `quotes.work_up.work_up` is the main job in one call."""
