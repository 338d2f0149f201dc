"""Two people accept the suggested days at once: one row, both content. Threads on PostgreSQL, which alone lets two
write at the same time; the control is the same without the lock."""

import threading
from datetime import date
from decimal import Decimal

import pytest
from django.db import IntegrityError

from catalog.models import PlannedLead
from catalog.services import planned_leads
from catalog.services.book import materials_with_parts
from catalog.services.catalog_file import import_catalog
from tests.factories import documents
from tests.support.racing import ROUNDS, at_once

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.faults, pytest.mark.postgresql]
TODAY = date(2026, 11, 25)


def accept(name: str) -> bool:
    seen = (planned_leads.suggestion(_base().to_core(), [], TODAY).evidence.plan_workdays, Decimal("0.9"))
    return planned_leads.accept_planned_lead("BASE", seen, [], by=name, on=TODAY)[1]


def _base():
    return materials_with_parts().get(code="BASE")


def both_at_once() -> list[object]:
    return at_once(lambda: accept("I. Quarrell"), lambda: accept("A. Nother"))


def test_accepted_by_two_at_once_it_stands_once(db, monkeypatch):
    import_catalog(documents.catalog())
    for _ in range(ROUNDS):
        assert sorted(both_at_once()) == [False, True]
        assert PlannedLead.objects.filter(ended_on=None).count() == 1
        planned_leads.end_planned_lead("BASE", by="I. Quarrell", on=TODAY)
    without_the_lock_the_second_runs_into_the_database(monkeypatch)


def without_the_lock_the_second_runs_into_the_database(monkeypatch):
    meeting = threading.Barrier(2)

    figures = planned_leads._figures

    def once_both_have_looked(plan):
        meeting.wait(20)
        return figures(plan)

    monkeypatch.setattr(planned_leads, "_held", lambda code: materials_with_parts().get(code=code))
    monkeypatch.setattr(planned_leads, "_figures", once_both_have_looked)
    gave = both_at_once()
    assert [type(entry) for entry in gave if entry is not True] == [IntegrityError]
