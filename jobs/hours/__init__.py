"""Hours worked, and hours its lead says are left of a job.

One sending (`request_key`) enters lines, each of one worker, one day and one job and step, or of something on no job.
Whoever enters holds the workers to the end of the transaction: the 24 hours of a worker's day, and the same work twice,
are looked at under that lock. What is typed stays (`typed_minutes`); what counts (`minutes`) is rounded as the firm
rounds on the day of entry.

The rate is frozen at entry by the day worked. The rooms above know the rates (`read_labour_rates_with`). A day without
a rate leaves the entry without one: it is a gap and never 0.00. A rate entered later moves nothing: what it would
change in open months is listed, and the owner freezes it anew by name (`refreezing.py`).

A wrong entry is voided with a reason, and entered anew in its place. Once its month is closed its row cannot change:
it is reversed by a row in the first open month, and entered anew there.
"""
