"""What all tables share: columns, bounds, and the rules for rows and migrations.

A conditional UPDATE has its condition on the row itself, never over a join. Django makes a subquery of a join, and
PostgreSQL, after it has waited for another's update, looks again at the row and not at the subquery; so both would win.

Migrations carry tables with their rules: new tables come with their constraints in one operation each. A migration that
has landed never changes. `manage.py migrate` carries them out on the models they touch (`quick_migrations.py`). The
suite's SQLite tables come from the models; `make lint` asks whether the two agree, and PostgreSQL's turn, the demo and
every test of the service as a process migrate.

What is made of many rows and asked for often, the catalog and a job, is made anew only where one of its rows differs
(`row_graph.py`).
"""
