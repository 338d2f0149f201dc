"""Days accepted for planning as the catalog keeps them: once, by name, and only while they are what was seen."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.refusal import Refused
from catalog.core.leads.lead_record import LeadReceipt
from catalog.core.materials.catalog_data import Catalog
from catalog.models import PlannedLead
from catalog.services import entries
from catalog.services.book import book_of
from catalog.services.catalog_file import store_book
from catalog.services.planned_leads import (
    accept_planned_lead,
    end_planned_lead,
    read_acceptance,
    standing_plan,
    suggestion,
)

pytestmark = pytest.mark.both_engines
TODAY = date(2026, 11, 25)
# The base is quoted 30 calendar days and 2 working days in transit: 22 and 2 working days.
QUOTED = 24
RECORD = [
    LeadReceipt(24, actual, date(2026, 9, 7) + timedelta(weeks=week), "MILL", "BASE")
    for week, actual in enumerate((24, 26, 31))
]


def accept(days: int, record: list[LeadReceipt] = RECORD, by: str = "I. Quarrell") -> tuple[PlannedLead, bool]:
    return accept_planned_lead("BASE", (days, Decimal("0.9")), record, by=by, on=TODAY)


def suggested(record: list[LeadReceipt] = RECORD) -> int:
    result = suggestion(book_of().materials["BASE"], record, TODAY)
    assert result is not None
    assert result.evidence.quoted_workdays == QUOTED
    return result.evidence.plan_workdays


def test_what_is_accepted_stands_in_the_catalog_with_name_and_evidence(small_catalog: Catalog) -> None:
    row, new = accept(suggested())
    (plan,) = book_of().materials["BASE"].planned_leads
    assert new
    assert plan == row.to_core()
    assert (plan.plan_workdays, plan.accepted_by, plan.accepted_on) == (suggested(), "I. Quarrell", TODAY)
    assert plan.evidence.startswith("quoted 24 days; the last 3 took 1.00, 1.08 and 1.29 of the quote; nine in ten")
    assert plan.ratios == (Decimal(1), Decimal("1.083333"), Decimal("1.291667"))
    assert book_of(TODAY - timedelta(days=1)).materials["BASE"].planned_leads == ()


def test_sent_twice_it_is_accepted_once(small_catalog: Catalog) -> None:
    first, _ = accept(suggested())
    second, new = accept(suggested(), by="A. Nother")
    assert (second.pk, new, PlannedLead.objects.count()) == (first.pk, False, 1)


def test_what_the_record_no_longer_suggests_is_refused_and_nothing_is_kept(small_catalog: Catalog) -> None:
    more = [*RECORD, LeadReceipt(24, 60, date(2026, 11, 20), "MILL", "BASE")]
    with pytest.raises(Refused, match=f"{suggested()} working days were to be accepted.*suggests {suggested(more)}"):
        accept(suggested(), more)
    assert not PlannedLead.objects.exists()


def test_accepting_anew_ends_what_stood_before(small_catalog: Catalog) -> None:
    accept(suggested())
    more = [*RECORD, LeadReceipt(24, 60, date(2026, 11, 20), "MILL", "BASE")]
    accept(suggested(more), more, by="A. Nother")
    first, second = PlannedLead.objects.all()
    assert (first.ended_on, first.ended_by_name, second.ended_on) == (TODAY, "A. Nother", None)
    plan, stale = standing_plan(book_of().materials["BASE"], TODAY)
    assert plan is not None
    assert (plan.plan_workdays, stale) == (suggested(more), False)


def test_ended_the_quoted_days_count_again_and_a_second_end_does_nothing(small_catalog: Catalog) -> None:
    accept(suggested())
    assert end_planned_lead("BASE", by="A. Nother", on=TODAY) is not None
    assert end_planned_lead("BASE", by="A. Third", on=TODAY) is None
    assert standing_plan(book_of().materials["BASE"], TODAY) == (None, False)
    assert PlannedLead.objects.get().ended_by_name == "A. Nother"


def test_a_newer_quoted_term_makes_it_stale(small_catalog: Catalog) -> None:
    accept(suggested())
    text = {"production": "4 weeks", "transit_workdays": 1, "source": "telephone", "stated_on": "2026-11-25"}
    entries.add_lead_term("BASE", text)
    plan, stale = standing_plan(book_of().materials["BASE"], TODAY)
    assert plan is not None
    assert stale


def test_a_material_nobody_quotes_has_no_suggestion(small_catalog: Catalog) -> None:
    assert suggestion(book_of().materials["TAPE"], RECORD, TODAY) is None
    with pytest.raises(Refused, match="Nothing is quoted"):
        accept_planned_lead("TAPE", (9, Decimal("0.9")), [], by="I. Quarrell", on=TODAY)


def test_a_document_brings_none_in_and_a_material_taken_out_and_sent_back_keeps_its_own(small_catalog: Catalog) -> None:
    accept(suggested())
    base = book_of().materials["BASE"]
    entries.change_material("BASE", {**write(base), "name": "Flexible base"})
    store_book(Catalog(small_catalog.firm, small_catalog.standards).with_more((), (replace(base, planned_leads=()),)))
    assert book_of().materials["BASE"].planned_leads == base.planned_leads
    with pytest.raises(DocumentError, match="planned_leads: are accepted by somebody"):
        entries.change_material("TAPE", {"planned_leads": write(base)["planned_leads"]})


@pytest.mark.parametrize(
    ("document", "text"),
    [
        ({}, "plan_workdays: is missing"),
        ({"plan_workdays": 0}, "plan_workdays: 0 must be"),
        ({"plan_workdays": 9, "confidence": "1"}, "confidence: 1 must be from 0.5 to 0.995"),
        ({"plan_workdays": 9, "by": "me"}, "by: is not a name"),
    ],
)
def test_an_acceptance_that_cannot_be_read_is_refused_by_field(document: dict[str, object], text: str) -> None:
    with pytest.raises(DocumentError, match=text):
        read_acceptance(Reader(document))
