"""What to order from whom, what is on the way, and what to ask of which order.

What is known of a placed order (when it was confirmed, promised and heard of, what is to claim, what goes otherwise)
is one row, `KeptOrder`, written in the transaction that writes a fact of it or of its jobs: `orders_of_jobs_changed`
follows orders, needs and facts of jobs, after the lives of these jobs are held. What only the day changes (what is due,
since when, and when goods ordered today would be usable) is worked out when it is read, by `to_ask`. A row an older
catalog was read for, or another version wrote, is read anew for the page and kept anew within a minute.
"""
