"""Materials with their figures, limits and profile cards; the firm's standards; the catalog as one value.

A figure of the profile itself goes before its maker's table by width. Past the end of the table there is no limit.
"""
