"""Templates of a job: traced, held, lost or used up.

Templates hold the order, never the quote, for they are traced when the wall is framed. A template is known by wall and
run of trim, both by name, so it outlives either being entered anew. A change of a job by file alone replaces the
register.
"""
