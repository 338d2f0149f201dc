"""Order dates of all open jobs, as rows.

Pages over all jobs, alerts and feeds read rows; `work_up` reads no row. A change of a job counts in `WorkedJob.changes`
(`job_changed`, called by `next_version` and wherever a part is added or removed) and asks for the errand `date_job` in
the same transaction. That errand works the job up and `refresh_job` stores the result. A row of the catalog that
changes asks for `recompute_dates`, which takes the wants from the rows and dates them again with `date_want`, as a
work-up does. `item_schedule` reads it all back and says what is older than its job.

Stored needs may be old, never wrong. A work-up first reads what it rests on: the number of changes of its job and of
the catalog, and the day. A row stands while all three are the same. A change in between leaves the row behind, and the
errand asks for itself again. Each minute `catch_up` asks for every job no errand is on its way to, and on a new day for
all; a job whose errand failed waits for a change. Quantities and activities depend on less of the catalog than dates
do: `basis_of` is a mark over that part, and only where it stands are dates counted from the rows alone. No page waits
for a worker: up to five jobs whose rows are old are worked up by the page itself, under their errand, and stored; of
more, the rows are shown with their day.

`make bench` measures CPU time, here for 1,000 open jobs of 40 items on SQLite (an empty page takes 13 ms):

| what | time | against |
|---|---|---|
| 40,000 rows read and written, nothing else | 4.0 s | |
| dates of all counted again, none moves | 5.1 s | 1.3 times that |
| dates of all counted again, 16,923 rows move, calendar events with them | 9.1 s | 2.3 times that |

When goods on order may be relied on is said once, by `goods_on_order`: pages, feed, mails and the chance of finishing
read it there, and `LeftToOrder` says what is still to be ordered and why.

Whether something of a need is left to order stands in its row (`to_order`), so that lists and counts are read by an
index alone. It follows from orders and from the need, and is written with the life of its job (`keep_to_order`), whose
row both wait for: whoever writes needs holds it first. Of a closed job nothing is left.

Days in hand are never stored, and neither is the outcome of an order placed today: `counted_on` adds both to a need,
for the hour of the reader. The database sorts lists by order-by day, which gives the same order.

Signed work stands before other work on every list, and each can be asked for alone. Whether a job is signed is no
column: `jobs/jobs/services/signed.py` puts the accepted revisions into the queries, so that it is true at once.

Planned days are rows beside the stored needs, written by the same work-up (`after_refresh`), so that crew clashes of
all open jobs are read in a constant number of queries.
"""
