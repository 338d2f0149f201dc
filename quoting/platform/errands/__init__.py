"""Background work as rows: errands, leases, the doorbell, the worker, the tick, and mails that leave once.

The row is the truth, the broker a doorbell. Every piece of background work is an errand row, claimed by one conditional
UPDATE. Effect and "done" commit together, and a sweep every 30 s rings again.

There is no embedded broker: the worker looks at the rows. Measured on two cores (30 single jobs for latency, 20 s of
idling, five rounds of kill -9 with five jobs queued):

| carrier | pick-up median | pick-up most | idle CPU of a core | of 25 jobs not finished 25 s after restart |
|---|---|---|---|---|
| worker looks at errand rows every 0.2 s | 125 ms | 198 ms | 0.10 % | 0 |
| kombu filesystem transport | 721 ms | 986 ms | 0.15 % | 5 |
| kombu SQL transport on SQLite | 773 ms | 997 ms | 0.25 % | 5 |

Both transports left one job unfinished for each kill, presumably the job under way, so the sweep would have to save it
anyhow (the first row is a stand-in script that frees claimed rows at start, as the worker does). A file lock allows one
embedded worker a data folder; once it has the lock, a starting worker frees whatever was claimed.
"""
