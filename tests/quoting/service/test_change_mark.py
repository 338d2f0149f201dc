"""Whether anything changed since an open Today was shown: asked twice a second, answered in the writing transaction."""

from contextlib import suppress
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from django.db import connection, transaction
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from quoting.life.models import KeptLife
from quoting.platform.errands.models import Errand
from quoting.service.services.change_mark import change_mark
from tests.quoting.service.test_today_pages import accept_at, dental_quote, desk, page_on
from tests.stored import stored_job

__all__ = ["dental_quote", "desk"]
pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
DAY, NOON = date(2026, 11, 25), datetime(2026, 11, 25, 12, tzinfo=UTC)


def test_the_mark_changes_in_the_transaction_that_accepts_and_with_it_alone(dental_quote, frozen_clock):
    before = change_mark(DAY)
    with suppress(LookupError), transaction.atomic():
        accept_at(dental_quote, NOON)
        inside = change_mark(DAY)
        raise LookupError
    assert inside != before == change_mark(DAY)


def test_what_is_written_while_the_clock_stands_or_goes_back_changes_the_mark(dental_quote, frozen_clock):
    before = change_mark(DAY)
    frozen_clock.move_to(datetime(2026, 11, 20, tzinfo=UTC))
    accept_at(dental_quote, NOON)
    assert change_mark(DAY) != before


def test_of_two_writers_the_one_that_began_first_and_ended_last_is_seen_too(dental_quote):
    other = stored_job("ashgrove-library")
    KeptLife.objects.update(kept_at=NOON + timedelta(seconds=1))
    KeptLife.objects.filter(job=other).update(kept_at=NOON)
    before = change_mark(DAY)
    KeptLife.objects.filter(kept_at=NOON).update(kept_at=NOON + timedelta(milliseconds=1))
    assert change_mark(DAY) != before


def test_an_errand_that_fails_changes_the_mark(db):
    before = change_mark(DAY)
    errand = {"kind": "render", "key": "1", "state": "failed", "error": "no space", "finished_at": NOON}
    Errand.objects.create(**errand, created_at=NOON, due_at=NOON)
    assert change_mark(DAY) != before


def test_to_say_that_nothing_changed_takes_six_queries_and_no_line_of_the_log(desk, dental_quote, frozen_clock, caplog):
    page_on(desk, frozen_clock, DAY)
    seen = {"seen": desk.get(reverse("today")).context["mark"]}
    caplog.clear()
    with CaptureQueriesContext(connection) as wanted:
        assert desk.get(reverse("today_changes"), seen).status_code == 204
    # Who asks: session, person and the firm's zone; the mark: lives, orders and failures.
    assert len(wanted) == 6 and not [record for record in caplog.records if record.getMessage() == "request"]


def test_an_open_page_looks_twice_a_second_and_never_twice_at_once(desk, dental_quote, frozen_clock):
    page = page_on(desk, frozen_clock, DAY)
    script = finders.find("quoting/today.js")
    assert 'hx-sync="this:drop"' in page and "LOOK_EVERY_MS = 500" in Path(script).read_text()
