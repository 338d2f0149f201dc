"""Rows of bills, orders and receipts of a job, against the worked job of a hall."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from jobs.bills.services.bill_rows import bill_rows_of, ordered_freight_of, ordered_rows_of
from jobs.core.costs.received_goods import committed, freight_committed, freight_received, received_not_billed
from jobs.deliveries.models import Confirmation, ConfirmedLine, ReturnedGoods
from tests.factories.bills import bill_line, bill_row
from tests.factories.orders import BY, NOON
from tests.support.hall import CAME, Hall

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]


@pytest.fixture
def hall():
    return Hall()


def rows_by_item(hall, job=None):
    return {(row.order, row.item): row for row in ordered_rows_of([(job or hall.job).pk])[(job or hall.job).pk]}


def bill_of(hall, code, quantity, amount, **more):
    line = hall.lines[code]
    return bill_line(bill_row(f"B-{line.pk}-{quantity}"), line.job, amount, quantity, order_line=line, **more)


def test_goods_that_came_without_a_bill_count_at_the_orders_price(hall):
    owed = {key[1]: received_not_billed(entry) for key, entry in rows_by_item(hall).items() if key[0] == "P-1"}
    # 12 x 46.50, 66 x 11.25, 24 x 19.10
    assert owed == {"TRACK": Decimal("558.00"), "STUD": Decimal("742.50"), "BOARD": Decimal("458.40")}


def test_a_bill_takes_its_goods_out_of_what_is_owed(hall):
    bill_of(hall, "TRACK", "12", "558.00")
    row = rows_by_item(hall)["P-1", "TRACK"]
    assert (received_not_billed(row), row.price_source, row.billed_amount) == (0, "bill", Decimal("558.00"))


def test_a_dearer_bill_moves_what_came_and_not_what_is_still_to_come(hall):
    bill_of(hall, "BOARD", "24", "464.40")
    row = rows_by_item(hall)["P-1", "BOARD"]
    # 24 billed at 19.35; 16 still ordered at 19.10.
    assert (row.price, committed(row)) == (Decimal("19.35"), Decimal("305.60"))


def test_committed_of_the_hall_is_its_worked_sum(hall):
    bill_of(hall, "BASE", "9", "1962.00")
    lines = sum(committed(row) for row in ordered_rows_of([hall.job.pk])[hall.job.pk])
    freight = sum(freight_committed(entry) for entry in ordered_freight_of([hall.job.pk])[hall.job.pk])
    # 305.60 + 352.00 + 1,900.00, and 35.00 of freight
    assert (lines, freight) == (Decimal("2557.60"), Decimal("35.00"))


def test_each_job_has_its_share_of_an_orders_freight(hall):
    freightses = ordered_freight_of([hall.job.pk, hall.other.pk])
    mine, theirs = freightses[hall.job.pk][0], freightses[hall.other.pk][0]
    assert (mine.amount, theirs.amount) == (Decimal("73.28"), Decimal("22.72"))
    assert freight_received(mine) == Decimal("73.28")


def test_freight_of_what_stands_for_damage_is_known_as_such(hall):
    assert [freight.order for freight in ordered_freight_of([hall.job.pk])[hall.job.pk] if freight.replaces] == ["P-3"]
    assert rows_by_item(hall)["P-3", "BASE"].replaces


def test_freight_billed_under_the_orders_is_settled_once_all_goods_are_billed(hall):
    bill = bill_row("C-1")
    bill_line(bill, hall.job, "80.00", category="freight", order=hall.second)
    assert ordered_freight_of([hall.job.pk])[hall.job.pk][1].left == Decimal("5.00")
    bill_of(hall, "BASE", "9", "1962.00")
    assert ordered_freight_of([hall.job.pk])[hall.job.pk][1].left == 0


def test_drafts_and_voided_bills_count_for_nothing(hall):
    draft = bill_row("D-1", entered_at=None, entered_by_name="", posted_month=None)
    voided = bill_row("V-1", voided_at=NOON, voided_by_name=BY, void_reason="Twice")
    for bill in (draft, voided):
        bill_line(bill, hall.job, "10.00", "12", order_line=hall.lines["TRACK"])
    assert bill_rows_of([hall.job.pk]) == {hall.job.pk: []}
    assert rows_by_item(hall)["P-1", "TRACK"].billed == 0


def test_rows_until_a_month_leave_out_what_is_posted_later(hall):
    bill_line(bill_row("N-1", posted_month=date(2026, 11, 1)), hall.job, "1.00")
    bill_line(bill_row("N-2", posted_month=date(2026, 12, 1)), hall.job, "2.00")
    assert [row.bill for row in bill_rows_of([hall.job.pk], date(2026, 11, 1))[hall.job.pk]] == ["N-1"]


def test_what_came_and_was_billed_after_a_day_does_not_count_until_it(hall):
    bill = bill_row("N-1", day=CAME + timedelta(days=2), posted_month=date(2026, 9, 1))
    bill_line(bill, hall.job, "558.00", "12", order_line=hall.lines["TRACK"])
    rows = []
    for until in (CAME - timedelta(days=1), CAME, CAME + timedelta(days=2), None):
        row = ordered_rows_of([hall.job.pk], until)[hall.job.pk][0]
        freight = ordered_freight_of([hall.job.pk], until)[hall.job.pk][0]
        rows.append((row.received, row.billed, freight.has_come))
    assert rows == [(0, 0, False), (12, 0, True), (12, 12, True), (12, 12, True)]


def test_an_accepted_confirmation_gives_the_price_and_another_does_not(hall):
    text = Confirmation.objects.create(
        order=hall.first, request_key="c", received_on=CAME, entered_at=NOON, entered_by_name=BY
    )
    row = ConfirmedLine.objects.create(confirmation=text, line=hall.lines["BOARD"], amount="774.00")
    assert rows_by_item(hall)["P-1", "BOARD"].price_source == "order"
    ConfirmedLine.objects.filter(pk=row.pk).update(settled_at=NOON, settled_by_name=BY)
    result = rows_by_item(hall)["P-1", "BOARD"]
    # 774.00 / 40 = 19.35
    assert (result.price, result.price_source) == (Decimal("19.35"), "confirmation")


def test_a_line_without_a_price_is_a_gap(hall):
    type(hall.painter).objects.filter(pk=hall.painter.pk).update(amount=None, unit_price=None)
    row = rows_by_item(hall)["P-6", "PAINTER"]
    assert (row.price_source, committed(row)) == ("no price", None)


def test_what_went_back_was_first_of_all_what_came_bad(hall):
    sent = {"sent_on": CAME, "reason": "Cracked", "entered_at": NOON, "entered_by_name": BY}
    ReturnedGoods.objects.create(line=hall.lines["BASE"], request_key="r1", quantity=1, **sent)
    assert rows_by_item(hall)["P-2", "BASE"].received == 8
    ReturnedGoods.objects.create(line=hall.lines["BASE"], request_key="r2", quantity=2, **sent)
    assert rows_by_item(hall)["P-2", "BASE"].received == 6


def test_damaged_goods_that_are_kept_are_received(hall):
    type(hall.damaged).objects.filter(pk=hall.damaged.pk).update(outcome="kept", outcome_on=CAME)
    assert rows_by_item(hall)["P-2", "BASE"].received == 9


def test_an_order_called_off_after_its_bill_keeps_it_and_commits_nothing(hall):
    bill_of(hall, "BASE", "9", "1962.00")
    hall.second.state = "called_off"
    hall.second.called_off_at, hall.second.called_off_by_name, hall.second.called_off_reason = NOON, BY, "Late"
    hall.second.save()
    row = rows_by_item(hall)["P-2", "BASE"]
    assert (row.billed, committed(row), row.has_ended) == (9, 0, True)


def test_many_jobs_take_as_few_queries_as_one(hall):
    def asked(jobs):
        with CaptureQueriesContext(connection) as result:
            bill_rows_of(jobs), ordered_rows_of(jobs), ordered_freight_of(jobs)
        return len(result)

    assert asked([hall.job.pk, hall.other.pk]) == asked([hall.job.pk])
