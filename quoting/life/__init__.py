"""Where each job stands and what is next, as one row a job, kept in the transaction that changes a fact of it.

Whoever changes a fact calls `fact_changed` (or one of the hooks of orders, needs and signing) after writing it. The row
is held before the facts are read: of two who change different facts of one job the second reads what the first wrote.
The row keeps facts with their days and never a verdict of the day; `station`, `next_by` and `turns_on` beside them are
for lists alone, and hold until `turns_on`. What a work-up finds (`measured_on`, `priced_on`) is written as it is
stored. Lists read the rows and work nothing up: the whole of 1,000 jobs is sorted by two columns, and one page of it is
read. `kept_at` says when a fact was written last, later each time: by the latest of them an open Today, which asks
twice a second, sees whether anything changed.
"""
