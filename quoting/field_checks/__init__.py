"""The field check: the wall as quoted beside the wall as measured on site, with prices.

A field check works the wall up as quoted and as found, each once, by one catalog and one way of pricing, and stores
nothing. Figures to be kept go the way of every change of a wall, with their dimensions confirmed by name.
"""
