"""A month is closed once, in order, and then the database refuses its rows, with the same statement as control."""

from datetime import date

import pytest
from django.db import IntegrityError, connection, transaction

from catalog.core.ground.refusal import Refused
from quoting.month.models import CauseSentence, OverheadActual
from quoting.month.services.overhead import void_overhead
from quoting.month.services.snapshots import MonthChanged, snapshot_of
from quoting.platform.closed_rows import guarded
from quoting.platform.immutable_tables import freeze, missing_triggers, thaw
from quoting.platform.posting import MonthClosed
from quoting.service.audit.month_audit import months_are_as_they_were_closed
from tests.support.months import OWNER, close, overhead
from tests.support.worked import NOW, small_job

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
AUGUST = date(2026, 8, 1)


@pytest.fixture(autouse=True)
def firm():
    return small_job()


def refused(act):
    try:
        with transaction.atomic():
            act()
            transaction.set_rollback(True)
    except IntegrityError as error:
        return "its month is closed" in str(error)
    return False


def refused_only_when_guarded(act):
    thaw(connection)
    assert not refused(act), "the control: without the guard it goes through"
    freeze(connection)
    return refused(act)


def copied_into(row, month):
    def act():
        OverheadActual.objects.create(
            request_key="late",
            what="Late",
            amount=1,
            day=month,
            posted_month=month,
            entered_at=NOW,
            entered_by_name="N",
        )

    return act


def test_a_row_of_a_closed_month_neither_comes_nor_changes_nor_goes():
    row = overhead("2026-08-14")
    close("2026-08")
    rows = OverheadActual.objects.filter(pk=row.pk)
    assert refused_only_when_guarded(copied_into(row, AUGUST))
    assert refused_only_when_guarded(lambda: rows.update(amount=13))
    assert refused_only_when_guarded(lambda: rows.update(posted_month=date(2026, 9, 1)))
    assert refused_only_when_guarded(rows.delete)


def test_a_row_of_an_open_month_cannot_be_moved_into_a_closed_month():
    overhead("2026-08-14")
    row = overhead("2026-09-14")
    close("2026-08")
    assert refused_only_when_guarded(lambda: OverheadActual.objects.filter(pk=row.pk).update(posted_month=AUGUST))
    assert not refused(lambda: OverheadActual.objects.filter(pk=row.pk).update(amount=13))


def test_the_sentence_of_a_closed_month_stays(firm):
    overhead("2026-08-14")
    document = {"job": firm, "text": "Rain.", "entered_at": NOW, "entered_by_name": "O. Owner"}
    row = CauseSentence.objects.create(month=AUGUST, **document)
    close("2026-08")
    assert refused_only_when_guarded(lambda: CauseSentence.objects.filter(pk=row.pk).update(text="Sun."))


@pytest.mark.postgresql
def test_a_table_with_rows_of_a_closed_month_is_not_emptied():
    overhead("2026-08-14")
    close("2026-08")
    with connection.cursor() as cursor:
        cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")
        assert refused_only_when_guarded(lambda: cursor.execute("TRUNCATE quoting_overheadactual"))


def test_what_comes_later_counts_in_the_first_open_month_and_keeps_its_day():
    overhead("2026-08-14")
    close("2026-08")
    row = overhead("2026-08-28", "6.00")
    assert (row.day, row.posted_month) == (date(2026, 8, 28), date(2026, 9, 1))


def test_a_row_of_a_closed_month_is_not_voided_and_the_sentence_says_what_to_do():
    row = overhead("2026-08-14")
    close("2026-08")
    with pytest.raises(MonthClosed, match="August 2026 is closed. Enter what is right as a new row: it counts in Sept"):
        void_overhead(row, {"reason": "Twice"}, OWNER, now=NOW)


def test_months_close_in_order_from_the_earliest_row_on():
    overhead("2026-07-31")
    with pytest.raises(Refused, match="July 2026 comes first: close it before August 2026"):
        close("2026-08")
    with pytest.raises(Refused, match="Nothing counts in June 2026"):
        close("2026-06")
    for month in ("2026-07", "2026-08"):
        close(month)
    with pytest.raises(Refused, match="August 2026 is closed already"):
        close("2026-08")


def test_the_running_month_is_not_closed():
    overhead("2026-10-02")
    with pytest.raises(Refused, match="October 2026 can be closed from Sun 1 Nov 2026"):
        close("2026-10")


def test_the_snapshot_names_each_row_and_what_is_changed_in_it_is_noticed():
    row = overhead("2026-08-14")
    stored = close("2026-08")
    assert list(snapshot_of(stored)["rows"]["quoting_overheadactual"]) == [str(row.pk)]
    stored.snapshot = stored.snapshot.replace(str(row.pk), "4711")
    with pytest.raises(MonthChanged):
        snapshot_of(stored)


def test_the_audit_names_a_row_that_is_not_as_it_was_closed():
    row = overhead("2026-08-14")
    close("2026-08")
    assert list(months_are_as_they_were_closed(NOW)) == [], "the control"
    thaw(connection)
    OverheadActual.objects.update(amount=13)
    [message] = months_are_as_they_were_closed(NOW)
    assert message == f"August 2026, closed: rows {row.pk} of quoting_overheadactual are not as they were closed."


def test_every_table_with_a_month_to_count_in_is_guarded(db):
    wanted = {"jobs_timeentry", "jobs_hoursleft", "jobs_bill", "quoting_overheadactual", "quoting_causesentence"}
    wanted |= {"quoting_paymentrequest", "quoting_paymentreceived"}
    assert wanted <= set(guarded()) and not any("historical" in table for table in guarded())
    assert missing_triggers(connection) == []
