"""Orders: proposals, drafts, releases, placing, the order sheet and its mail.

What blocks an item is `release_holds`, for rows as for a release; `job_standings` gives the standing of many jobs at
once. An item that a placed line covers has left what is to order and shows its slack to need-by.

A named person may set a hold aside with a reason, except where nobody could make the piece: a missing statement, a
template that is not there. What is bought from stock can be sent back and needs no release; of a job that is not signed
whoever places the order says why, and that is kept as a release of each item.

No more of an item is ordered than is wanted (`jobs.core.ordering.open_quantity`). Whoever drafts an order holds the
rows of its jobs, so that of two drafts at the same moment the second sees the first's line, and placing counts once
more. A line counts for what came good and was not sent back, and, until it is ended, for what is still to come; what
replaces its damaged goods counts by itself. A line of the rest states the whole item, so that one release holds for
both; its quantity says how much of it.

A statement lists each piece of trim with its length, its place in its run and the radii it follows; its number on the
line follows from that. Statements kept before places were stated are read all the same, and a mark leaves places out,
so that old releases stand; `still_states` looks at both. What came damaged or wrong is ordered again by a line of just
those pieces, whoever puts the order together, and that line passes every check of a release.

A mail to a supplier leaves once its sheet is made, by the same rule as a quote's: it is begun once, and where nobody
knows whether it left, the errand says so.
"""
