# `make setup` is safe to call again: it does nothing when nothing changed.
PYTHON := .venv/bin/python
# Compiled once and kept: the tests start hundreds of processes.
unexport PYTHONDONTWRITEBYTECODE

.PHONY: setup setup-dev demo serve test test-sqlite test-postgresql lint migrations-check bench coverage-table faults trial test-dates

setup:
	@sh .ci/setup run

setup-dev:
	@sh .ci/setup test

demo: setup
	@$(PYTHON) manage.py demo

serve: setup
	@$(PYTHON) manage.py serve

# Workers begin with half of the tests each, in order, so that what a module makes once is made once.
# SQLite comes last, so that what ends the run is the closing line of the whole suite.
test: setup-dev lint test-postgresql test-sqlite

test-sqlite:
	@env -u DATABASE_URL -u REDIS_URL $(PYTHON) -m pytest -n 2 --dist worksteal

# What the engines do alike runs once, on SQLite's turn (tests/conftest.py says which that is).
test-postgresql:
	@env -u REDIS_URL $(PYTHON) -m tests.on_postgresql $(PYTHON) -m pytest -n 2 --dist worksteal tests --ignore-glob='tests/*/core'

# Its parts run side by side.
lint:
	@$(MAKE) --no-print-directory -j 2 -O .style .types .imports migrations-check

.style:
	@$(PYTHON) -m ruff check .
	@$(PYTHON) -m ruff format --check .

.types:
	@$(PYTHON) -m mypy

.imports:
	@.venv/bin/lint-imports --cache-dir .cache/import-linter

migrations-check:
	@CURVEWRIGHT_DATA=.cache/check $(PYTHON) manage.py makemigrations --check --dry-run

bench: setup-dev
	@$(PYTHON) -m tests.bench

# How often orders come within the days planned with, in simulated worlds: the table of catalog/core/leads.
coverage-table: setup-dev
	@$(PYTHON) -m tests.bench_lead_record

# Each turn under another day than today.
ROUNDS := 8
faults: setup-dev
	@CURVEWRIGHT_FAULT_ROUNDS=$(ROUNDS) $(PYTHON) -m tests.on_day 2028-02-29 $(PYTHON) -m pytest -n 2 -m faults
	@CURVEWRIGHT_FAULT_ROUNDS=$(ROUNDS) CURVEWRIGHT_TRIAL=1 $(PYTHON) -m tests.on_day 2027-10-31 \
		$(PYTHON) -m tests.on_postgresql $(PYTHON) -m pytest -n 2 -m faults

# Before a release: both turns of the suite on each of these days.
DATES := 2026-12-31 2027-03-14 2027-03-28 2027-10-31 2027-11-07 2028-02-29 2030-11-30
test-dates: setup-dev
	@for day in $(DATES); do $(PYTHON) -m tests.on_day $$day $(MAKE) test-postgresql test-sqlite || exit 1; done

# `make test` at its widest, for the night before a release: all of it on both engines, and more made-up calls.
trial: export CURVEWRIGHT_TRIAL := 1
trial: export CURVEWRIGHT_API_EXAMPLES := 25
trial: test
	@$(MAKE) faults ROUNDS=20
