"""What an accepted quote costs, as rows: frozen with it, adding up to it, whatever the catalog says later."""

from decimal import Decimal

import pytest
from django.db import IntegrityError, connection, transaction

from jobs.orders.services.items import live_items
from quoting.changes.services.change_drafts import save_draft
from quoting.changes.services.change_notes import answer_change, issue_change
from quoting.job_money.models import QuotedSide
from quoting.job_money.services.note_costs import notes_of
from quoting.job_money.services.quoted_sides import quoted_sides_of
from quoting.platform.immutable_tables import freeze, thaw
from quoting.pricing.services.pricing import save_pricing
from quoting.quotes.services.given_answers import Given
from tests.support.answered import accept, with_note_paper, with_paper
from tests.support.desk import priced_job
from tests.support.worked import ANSWERED, NOW, TODAY, estimator, issued, small_job

pytestmark = pytest.mark.django_db
D = Decimal


def agreed(job=None):
    revision = with_paper(issued(job or small_job()))
    accept(revision)
    return revision


def side_of(revision):
    job = revision.quote.job_id
    return quoted_sides_of([job])[job]


def noted(job, **change):
    draft = save_draft(job, {"title": "A niche", "reason": "Asked for.", **change}, by=estimator(), now=NOW)
    note = with_note_paper(issue_change(draft, request_key="n", seen_version=1, by=estimator(), now=NOW, today=TODAY))
    answer_change(note, Given("signed", "Ada Client"), now=NOW, today=TODAY)
    return notes_of([job.pk])[job.pk][0]


def test_a_quote_entered_by_hand_is_kept_line_by_line_when_it_is_accepted():
    revision = agreed()
    rows = QuotedSide.objects.get().quoted
    assert [(row.category, row.item, row.quantity, row.cost) for row in rows] == [
        ("materials", "as entered", 1, D("3180.00")),
        ("labour", "All work", 96, D("4512.00")),
        ("subcontract", "Painting", 1, D("650.00")),
        ("other", "Delivery", 1, D("240.00")),
    ]
    assert (side_of(revision).price, sum(row.cost for row in rows)) == (D("13841.94"), revision.cost)


def test_a_quote_worked_out_from_the_walls_is_kept_by_material_and_step():
    revision = agreed(small_job(pricing=FROM_WALLS))
    side = side_of(revision)
    assert sum(entry.cost for entry in side.quoted) == revision.cost
    by_category = {
        entry.category: [two for two in side.quoted if two.category == entry.category] for entry in side.quoted
    }
    assert "GB-14" in [entry.item for entry in by_category["materials"]]
    assert "framing" in [entry.item for entry in by_category["labour"]]
    assert [entry.kind for entry in by_category["other"]][-2:] == ["contingency", "overhead"]
    assert side.overhead_rule.per_labour_hour == D("9.50")


FROM_WALLS = {
    "policy": {"mode": "margin", "target_margin": "0.38"},
    "materials": "takeoff",
    "labour_from_hours": {"rate": "47.00"},
    "other": [{"what": "Delivery", "amount": "240.00"}],
    "tax": {"name": "Sales tax", "rate": "0.13"},
    "overhead": {"per_labour_hour": "9.50"},
    "contingency": {"share": "0.05"},
    "checklist": ANSWERED,
}


def test_goods_are_quoted_in_what_an_order_counts_sheets_sticks_and_pieces_made():
    job = priced_job()
    save_pricing(job, FROM_WALLS, seen_version=None, on_day=TODAY)
    counted = {item.need.material: item.statement.quantity for item in live_items(job, NOW).values()}
    stored = {entry.item: entry.quantity for entry in side_of(agreed(job)).quoted if entry.category == "materials"}
    assert {"BASE-514-FLEX", "GB-14", "STUD-358"} <= stored.keys()
    assert stored == {item: counted[item] for item in stored}


def test_a_worked_example_is_kept_to_the_cent():
    revision = agreed(priced_job())
    assert sum(entry.cost for entry in side_of(revision).quoted) == revision.cost == D("8582.00")


@pytest.mark.both_engines
def test_the_database_refuses_to_change_what_was_quoted():
    agreed()
    with pytest.raises(IntegrityError, match="cannot be changed"), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("UPDATE quoting_quotedside SET price = 1")


def test_one_accepted_before_there_were_such_rows_is_read_when_it_is_asked_for():

    revision = agreed()
    thaw(connection)
    QuotedSide.objects.all().delete()
    freeze(connection)
    assert side_of(revision).quoted == QuotedSide.objects.get().quoted


@pytest.mark.both_engines
def test_a_note_costs_what_its_cost_lines_say():
    costs = [
        {"category": "labour", "item": "niche", "quantity": "10", "unit_cost": "48.00"},
        {"category": "materials", "item": "niche goods", "quantity": "1", "unit_cost": "340.00"},
    ]
    note = noted(agreed().quote.job, lines=[{"what": "Niche", "price": "1240.00"}], costs=costs)
    assert [(line.item, line.cost, line.is_assumed) for line in note.lines] == [
        ("niche", D("480.00"), False),
        ("niche goods", D("340.00"), False),
    ]
    assert (note.price, note.is_signed) == (D("1240.00"), True)


def test_a_note_whose_cost_nobody_said_is_assumed_at_the_quoted_share():
    note = noted(agreed().quote.job, lines=[{"what": "Niche", "price": "200.00"}])
    # 200.00 x 8,582.00 / 13,841.94 is 124.00.
    assert [(line.item, line.cost, line.is_assumed) for line in note.lines] == [("note 1", D("124.00"), True)]


def test_a_cost_said_with_a_line_of_a_note_is_one_sum():
    lines = [
        {"what": "Niche", "price": "200.00", "cost": "150.00"},
        {"what": "Door", "price": "-80.00", "cost": "-50.00"},
    ]
    note = noted(agreed().quote.job, lines=lines)
    assert [(line.item, line.cost) for line in note.lines] == [("Niche", D("150.00")), ("Door", D("-50.00"))]
