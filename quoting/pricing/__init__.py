"""How a job is priced, as rows, and the approval of a price below the least margin.

The least margin is held against the worst choice of options (exact, for the margin adds up). An approval binds the
figures: it holds for a margin not lower and a shortfall not greater. It is not part of a job file, so nobody can forge
it. Whoever approves cannot issue, and the database holds the two apart.
"""
