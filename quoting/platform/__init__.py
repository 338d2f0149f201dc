"""The ground of the service: clock, environment, forms, API base, errands, papers and people.

It knows no room above it and imports `catalog.core.ground` alone.

One clock. Pages, papers, mails and errands write moments in the firm's zone (`firm_day`), which is read anew for each
request and errand. Rows, logs and the API keep UTC, the API as ISO with its offset.

One refusal. What stands in the way is `Refused` with its sentences, and pages and API answer by it; a subclass has a
status, a path or words of its own. The API answers every error by `problems`, the middleware's too.

Amounts are written by locale at the edge only. Documents, CSV, the API and what people type have a point everywhere.
"""
