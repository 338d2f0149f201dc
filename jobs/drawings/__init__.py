"""Drawings made of core values: one picture a module, the same SVG for the page and for the paper."""
