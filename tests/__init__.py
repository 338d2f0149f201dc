"""The suite: as the tree it tests, with shared rows and desks in `tests.support` and `tests.factories`.

Tests run once on SQLite; a test marked `both_engines` runs once more on PostgreSQL. Those are the modules whose
statements, counted shape by shape, nothing else sends there. `make trial` runs all of it on both and makes up more
calls of the API; pages in Chromium are looked at on SQLite only. `tests.stored` puts in as rows what the services
stored the first time; PostgreSQL's databases are copies of a database that was migrated once. The suite kills at the
hardest place only, `make faults` at all places.

Every test stands on Monday 5 October 2026 (`frozen_clock`). The processes it starts run on from there, and ruff refuses
code that asks the machine for the day. `make faults` runs each turn on another day, for the sake of what Django and
libraries ask the machine themselves; `make test-dates` runs both turns of the suite on each of `DATES`
(`tests.on_day`).

Generated quotes (`tests.support.generated_quotes`) come from a seed. What the database gives back of them has one
digest on both engines: 60 in the suite, 5,000 in `make faults`. A wanted change of a rule changes both digests.
"""
