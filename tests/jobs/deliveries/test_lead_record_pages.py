"""The lead-time record on the pages of a material and a supplier, from rows of orders and what came of them."""

from datetime import UTC, date, datetime

import pytest
from django.urls import reverse

from catalog.models import Material, PlannedLead
from jobs.deliveries.models import Delivery, ReceiptLine
from jobs.deliveries.services.lead_record import lead_receipts
from jobs.deliveries.services.receiving import check_in
from jobs.jobs.models import Job
from jobs.orders.models import OrderLine
from quoting.platform import clock
from quoting.platform.people.signatures import Signature
from tests.factories.orders import BY, NOON, placed_order
from tests.stored import stored_job
from tests.support.desk import as_, queries_of

pytestmark = pytest.mark.both_engines
__all__ = ["as_"]

TODAY = date(2027, 1, 11)


@pytest.fixture
def job(db):
    """The dental job: its base is quoted 15 working days and 3 in transit. All orders count from 24 Nov 2026."""
    with clock.use(clock.FrozenClock(datetime(2027, 1, 11, 15, tzinfo=UTC))):
        yield stored_job("larkmoor-dental")


@pytest.fixture
def base(job):
    return Material.objects.get(code="BASE-514-FLEX")


def ordered(job: Job, material: Material, quoted: int = 18, **line) -> OrderLine:
    return placed_order(job, material, material.supplier, quoted_workdays=quoted, **line)


def came(line: OrderLine, day: date, actual: int, **how) -> ReceiptLine:
    delivery = Delivery.objects.create(
        order=line.order, request_key=f"{line.pk} {day}", received_on=day, entered_at=NOON, entered_by_name=BY
    )
    usual = {"good": 9, "quoted_workdays": line.quoted_workdays, "promised_on": line.promised_on}
    return ReceiptLine.objects.create(delivery=delivery, line=line, actual_workdays=actual, **(usual | how))


def three_came(job: Job, base: Material) -> None:
    """Ratios 1.00, 1.11 and 1.33 of 18 quoted days."""
    for actual, day in ((18, date(2026, 12, 18)), (20, date(2027, 1, 4)), (24, date(2027, 1, 8))):
        came(ordered(job, base), day, actual)


def test_a_line_counts_once_when_all_of_it_came_and_until_then_as_open(job, base):
    part = ordered(job, base)
    came(part, date(2026, 12, 18), 18, good=5)
    (receipt,) = lead_receipts(TODAY)
    # By hand: of the mill's days, 24 lie after 24 Nov up to 11 Jan, its shutdown 21 Dec to 1 Jan left out.
    assert (receipt.is_open, receipt.actual_workdays, receipt.counts) == (True, 24, True)
    came(part, date(2027, 1, 8), 23, good=3, damaged=1)
    (receipt,) = lead_receipts(TODAY)
    assert (receipt.is_open, receipt.actual_workdays, receipt.ordered_on) == (False, 23, date(2026, 11, 24))


def test_what_is_checked_in_is_learnt_from(job, base):
    line = ordered(job, base)
    text = {"request_key": "van", "seen_deliveries": 0, "received_on": "2027-01-08"}
    lines = [{"place": line.place, "good": 7, "damaged": 2}]
    check_in(line.order, {**text, "lines": lines}, Signature(BY, TODAY), now=NOON)
    (receipt,) = lead_receipts(TODAY)
    # By hand: of the mill's days, 18 lie after 24 Nov up to 18 Dec, and 5 after that up to 8 Jan, past its shutdown.
    assert (receipt.actual_workdays, receipt.quoted_workdays, receipt.is_open) == (23, 18, False)


def test_what_was_ended_before_anything_came_or_never_quoted_teaches_nothing(job, base):
    ordered(job, base, ended_on=TODAY, ended_reason="Not needed")
    ordered(job, base, quoted=0)
    placed_order(job, base, base.supplier, quoted_workdays=None)
    assert lead_receipts(TODAY) == []


def test_the_record_is_read_in_a_constant_number_of_queries(job, base, django_assert_num_queries):
    for few in (1, 3):
        for _ in range(few):
            came(ordered(job, base), date(2026, 12, 18), 18)
        with django_assert_num_queries(6):
            lead_receipts(TODAY)


def test_the_office_sees_the_suggestion_and_accepts_it_once(job, base, as_):
    three_came(job, base)
    office, page = as_("office"), reverse("material", args=[base.pk])
    shown = office.get(page)
    result = shown.context["planned"].suggestion.evidence
    assert "Quoted 18 days; the last 3 took 1.00, 1.11 and 1.33 of the quote; nine in ten" in shown.content.decode()
    assert "3 of 3 orders, 100 %" in shown.content.decode()
    seen = {"plan_workdays": result.plan_workdays, "confidence": "0.9"}
    for _ in range(2):
        assert office.post(reverse("planned_accept", args=[base.pk]), seen)["Location"] == page
    row = PlannedLead.objects.get()
    assert (row.plan_workdays, row.accepted_on) == (result.plan_workdays, TODAY)
    after = office.get(page).content.decode()
    assert f"planned {row.plan_workdays}<" in office.get(reverse("catalog")).content.decode()
    assert f"Orders are dated by {result.plan_workdays} working days" in after
    assert f'action="{reverse("planned_accept", args=[base.pk])}"' not in after
    office.post(reverse("planned_end", args=[base.pk]))
    assert "Orders are dated by what is quoted" in office.get(page).content.decode()


def test_what_is_no_longer_suggested_or_no_number_is_refused_in_words(job, base, as_):
    office, page = as_("office"), reverse("material", args=[base.pk])
    for days, text in (("9", "the record suggests"), ("nonsense", "plan_workdays"), ("", "plan_workdays: is missing")):
        message = office.post(reverse("planned_accept", args=[base.pk]), {"plan_workdays": days}, follow=True)
        assert message.redirect_chain[-1][0] == page
        assert text in message.content.decode()
    assert not PlannedLead.objects.exists()


def test_the_share_in_time_is_chosen_or_comes_from_what_a_day_costs(job, base, as_):
    office, page = as_("office"), reverse("material", args=[base.pk])

    def aimed(**wanted):
        return office.get(page, wanted).context["planned"]

    # Newsvendor: 180 for a late day against 20 for an early one is nine in ten.
    assert str(aimed(late_day="180", early_day="20").confidence) == "0.9"
    assert str(aimed(aim="0.95", late_day="180", early_day="20").confidence) == "0.95"
    for texts in ({"late_day": "much"}, {"late_day": "180"}, {"late_day": "0", "early_day": "0"}, {"aim": "2"}):
        costs = aimed(**texts)
        assert str(costs.confidence) == "0.9"
        assert costs.form.errors


def test_a_newer_quote_is_told_beside_the_planned_days(job, base, as_):
    office = as_("office")
    days = office.get(reverse("material", args=[base.pk])).context["planned"].suggestion.evidence
    office.post(reverse("planned_accept", args=[base.pk]), {"plan_workdays": days.plan_workdays})
    texts = {"production": "4 weeks", "transit_workdays": "3", "source": "telephone", "stated_on": "2027-01-11"}
    office.post(reverse("lead_term_add", args=[base.pk]), texts)
    assert "against another quote or supplier" in office.get(reverse("material", args=[base.pk])).content.decode()


def test_the_suppliers_score_matches_its_receipts(job, base, as_):
    promised = date(2026, 12, 18)
    came(ordered(job, base, promised_on=promised), promised, 18, damaged=2, good=7)
    # By hand: from Fri 18 Dec the mill's next days are 4 and 5 Jan.
    came(ordered(job, base, promised_on=promised), date(2027, 1, 5), 20, wrong=9, good=0)
    came(ordered(job, base), date(2027, 1, 5), 20)
    shown = as_("office").get(reverse("supplier", args=[base.supplier.pk]))
    score = shown.context["score"]
    assert score.receipts == ReceiptLine.objects.count() == 3
    assert (score.promised, score.kept, score.late, score.median_late_workdays) == (2, 1, 1, 2)
    assert (score.damaged, score.wrong) == (1, 1)
    assert "1 of 2 promised" in shown.content.decode()
    assert "<td>1 of 2</td>" in as_("owner").get(reverse("supplier_list")).content.decode()


def test_what_rests_on_fewer_than_three_receipts_is_called_an_assumption(job, base, as_):
    page = reverse("material", args=[base.pk])
    assert "an assumption more than a record" in as_("office").get(page).content.decode()
    three_came(job, base)
    assert "an assumption more than a record" not in as_("owner").get(page).content.decode()


def test_the_page_of_a_material_takes_as_many_queries_whatever_was_received(job, base, as_):
    office, page = as_("office"), reverse("material", args=[base.pk])
    came(ordered(job, base), date(2026, 12, 18), 18)
    queries_of(office, page)
    before = queries_of(office, page)
    three_came(job, base)
    assert queries_of(office, page) == before
