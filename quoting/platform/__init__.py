"""The ground of the service: clock, environment, forms, API base, errands, papers and people.

It knows no room above it and imports `catalog.core.ground` alone.

One clock. Pages, papers, mails and errands write moments in the firm's zone (`firm_day`), which is read anew for each
request and errand. Rows, logs and the API keep UTC, the API as ISO with its offset.

Amounts are written by locale at the edge only. Documents, CSV, the API and what people type have a point everywhere.
"""
