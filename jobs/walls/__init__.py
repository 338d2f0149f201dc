"""Walls: the form, the rows, the marks and decisions on them, their figures and photos.

A mark (how a dimension is known) belongs to its figure: whoever changes the figure signs it anew.
"""
