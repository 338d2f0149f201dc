"""The firm's month: what it made and why, its close, and the files for the bookkeeper.

A month is closed once, in order, after it has ended. From then on the database refuses every row that would count in it
(`quoting.platform.closed_rows`); what is learnt later counts in the first open month (`quoting.platform.posting`).
Whoever writes such a row shares a lock, whoever closes holds it alone: so each row is in the month's snapshot or in
the next month, and never in neither.
"""
