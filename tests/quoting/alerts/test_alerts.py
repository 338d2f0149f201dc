"""Alerts from rows to mails: each once, in its time, to those who want them, whatever dies or starts twice."""

import smtplib
import threading
from contextlib import suppress
from datetime import date, datetime, timedelta
from functools import partial
from zoneinfo import ZoneInfo

import pytest
from django.core import mail as post
from django.db import connection

from catalog.core.ground.refusal import Refused
from catalog.models import Firm, Supplier
from catalog.services.suppliers import add_closure
from jobs.core.ordering.alerts import AlertKey, Watched
from jobs.dates.services.kept_to_order import keep_to_order
from jobs.jobs.services.open_jobs import close_job
from jobs.needs.models import StoredNeed
from jobs.orders.models import Order, OrderLine, Release, SignOff
from quoting.alerts.models import Alert, AlertMail, AlertTrouble, WeeklyMail
from quoting.alerts.services import due_alerts
from quoting.alerts.services.alert_settings import EntryError, set_alert_times
from quoting.alerts.services.due_alerts import MAIL_ALERTS, look_for_alerts
from quoting.alerts.services.mail_preferences import set_wish
from quoting.alerts.services.weekly import ask_for_lists
from quoting.platform import clock, failpoints
from quoting.platform.errands.models import Errand, ErrandState
from quoting.platform.errands.services.errands import run_errand, takeable
from quoting.platform.people.services.people import change_person
from quoting.service.audit.services.audit import audit
from tests.jobs.core import alert_days
from tests.jobs.core.alert_days import DAY, MINUTE
from tests.quoting.platform.errands.test_errand_races import at_once
from tests.support.alerted import DECIDE_BY, EVENING, ORDER_BY, need, wanting_mail

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
HOUR = timedelta(hours=1)
MIDNIGHT = EVENING + timedelta(minutes=2)
MONDAY_7 = datetime.fromisoformat("2026-12-07T12:00:00+00:00")


@pytest.fixture
def at():
    """at(moment) sets the clock."""
    with clock.use(clock.FrozenClock(EVENING)) as frozen:
        yield frozen.move_to


@pytest.fixture
def office(make_person):
    return wanting_mail(make_person)


def minute(at, moment, times=1):
    """What happens in a minute: so many schedulers look, and a worker does what they ask for."""
    at(moment)
    for _ in range(times):
        look_for_alerts(moment)
        ask_for_lists(moment)
    for errand in list(takeable(moment).filter(kind__startswith="mail_")):
        run_errand(errand.pk, "w")
    return [message.body for message in post.outbox]


def thresholds():
    return sorted(Alert.objects.filter(told=True).values_list("threshold", flat=True))


def test_an_alert_comes_with_the_day_of_the_firm_and_not_before(job, office, at):
    need(job)
    minute(at, EVENING - timedelta(hours=1))
    assert len(minute(at, EVENING)) == 1
    assert thresholds() == ["10"]
    [_, body] = minute(at, MIDNIGHT)
    assert "Order item BASE from HENNOCK: Corridor screen, by Thu 10 Dec 2026. On site by" in body
    assert "Not signed yet." in body
    assert thresholds() == ["10", "5", "decide"]


def test_ten_schedulers_and_ten_looks_tell_it_once(job, office, at):
    need(job)
    minute(at, MIDNIGHT, times=5)
    assert len(minute(at, MIDNIGHT + timedelta(minutes=1), times=5)) == 1
    assert AlertMail.objects.get().sent_at is not None and AlertMail.objects.get().went_by == "server"


def test_schedulers_that_die_before_they_are_done_leave_it_to_the_next(job, office, at):
    need(job)
    at(MIDNIGHT)
    with failpoints.ordered(alerts_kept="raise"), pytest.raises(failpoints.FailpointError):
        look_for_alerts(MIDNIGHT)
    assert not Alert.objects.exists()
    assert len(minute(at, MIDNIGHT + timedelta(minutes=1), times=2)) == 1


def test_what_came_up_in_three_days_without_a_scheduler_is_told_once_on_the_first_look(job, office, at):
    need(job, order_by=date(2026, 12, 7), decide_by=date(2026, 12, 1))
    minute(at, EVENING - timedelta(days=8))
    post.outbox.clear()
    back = EVENING + timedelta(days=4, hours=9)
    minute(at, back)
    [body] = minute(at, back + timedelta(minutes=2))
    assert "Due today. Order item BASE" in body
    assert Alert.objects.filter(threshold__in=["1", "0"]).count() == 2


def test_each_who_wants_them_gets_one_mail_and_the_others_none(job, make_person, at):
    need(job)
    for role, name in (("office", ""), ("owner", ""), ("office", "second")):
        wanting_mail(make_person, role, name)
    wanting_mail(make_person, "owner", "quiet", alerts=False)
    gone = wanting_mail(make_person, "office", "gone")
    change_person(gone.pk, full_name="Gone", role="office", is_active=False)
    minute(at, MIDNIGHT)
    to = sorted(message.to[0] for message in post.outbox)
    assert to == ["second@firm.example", "the-office@firm.example", "the-owner@firm.example"]


def test_late_is_told_once_and_in_another_word_than_due(job, office, at):
    need(job, order_by=date(2026, 12, 2))
    [body] = minute(at, MIDNIGHT)
    assert "1 working day late. Order item BASE" in body
    assert len(minute(at, MIDNIGHT + timedelta(days=1))) == 1


@pytest.mark.parametrize("days", [{}, {"order_by": date(2026, 12, 4)}])
def test_a_mail_of_a_day_that_has_passed_names_the_day_usable_if_ordered_today(job, office, at, days):
    # Ordered on Thu 3 Dec: a week of five days, a day in transit and one of cushion.
    term = {"production_days": 5, "production_counts": "workdays", "transit_workdays": 1}
    text = {"term_source": "telephone", "term_stated_on": date(2026, 11, 2), "cushion_workdays": 1}
    need(job, supplier="TOLLARD", need_by=date(2026, 12, 11), dock=date(2026, 12, 10), ship=date(2026, 12, 9),
         **{"order_by": date(2026, 12, 2), **days}, **term, **text)  # fmt: skip
    [body] = minute(at, MIDNIGHT)
    passed = "Its day to order has passed; ordered today it is usable Mon 14 Dec 2026, 1 working day late."
    assert (passed in body) is not bool(days)


def test_a_day_that_moves_before_its_mail_leaves_takes_the_old_alert_with_it(job, office, at):
    row = need(job)
    at(MIDNIGHT)
    look_for_alerts(MIDNIGHT)
    StoredNeed.objects.filter(pk=row.pk).update(
        order_by=date(2027, 1, 4), decide_by=date(2026, 12, 28), ship=date(2027, 1, 4), dock=date(2027, 1, 5)
    )
    assert minute(at, MIDNIGHT) == []
    assert AlertMail.objects.get().sent_at is None
    assert Errand.objects.get(kind=MAIL_ALERTS).state == ErrandState.DONE


def test_a_change_in_the_day_is_told_after_it_has_settled_in_one_mail(job, office, at):
    noon = MIDNIGHT + timedelta(hours=12)
    need(job, "A", date(2026, 12, 8))
    assert minute(at, noon) == []
    need(job, "B", date(2026, 12, 9))
    assert minute(at, noon + timedelta(minutes=1)) == []
    [body] = minute(at, noon + timedelta(minutes=2))
    assert body.index("Order item A") < body.index("Order item B")


def released(job):
    return Release(
        job=job, material_id="GB-14", statement={}, statement_mark="0" * 64, released_at=EVENING, released_by_name="R"
    )


def placed(job):
    order = Order.objects.create(
        number="PO-1", supplier=Supplier.objects.first(), state="placed", request_key="k", made_at=EVENING,
        made_by_name="R", way="other", placed_at=EVENING, placed_on=DECIDE_BY, counted_from=DECIDE_BY,
        placed_by_name="R",
    )  # fmt: skip
    line = {"what": "Board", "quantity": 1, "unit": "sheets", "statement_mark": "0" * 64}
    return OrderLine(order=order, place=0, job=job, material_id="GB-14", **line)


@pytest.mark.parametrize("silenced_by", [released, placed])
def test_what_is_released_or_placed_is_silent(job, office, at, silenced_by):
    need(job, "GB-14")
    row = silenced_by(job)
    row.save()
    keep_to_order([job.pk])
    assert minute(at, MIDNIGHT) == []
    row.delete()
    keep_to_order([job.pk])
    assert len(minute(at, MIDNIGHT + timedelta(minutes=1))) == 1, "the control: it is what kept it silent"


def test_what_is_signed_off_asks_for_no_decision(job, office, at):
    need(job, "GB-14")
    signed = {"agreed_on": DECIDE_BY, "agreed_by": "Client", "entered_at": EVENING, "entered_by_name": "R"}
    SignOff.objects.create(job=job, material_id="GB-14", what="Sample", **signed)
    [body] = minute(at, MIDNIGHT)
    assert "Order item GB-14" in body and "signed off" not in body


def test_a_closed_job_is_silent(job, office, at):
    need(job)
    close_job(job, DECIDE_BY)
    assert minute(at, MIDNIGHT) == []


def test_an_item_that_cannot_be_dated_is_named_and_silences_no_other(job, office, at):
    need(job, "GOOD")
    bad = need(job, "BAD", date(9999, 12, 1), ship=date.max, dock=date.max, need_by=date.max)
    StoredNeed.objects.filter(pk=bad.pk).update(decide_by=date(2026, 12, 1), order_by=date.max)
    assert "item GOOD" in minute(at, MIDNIGHT)[0]
    trouble = AlertTrouble.objects.get()
    assert (trouble.material, trouble.since) == ("BAD", MIDNIGHT)
    bad.delete()
    minute(at, MIDNIGHT + timedelta(minutes=1))
    assert not AlertTrouble.objects.exists()


@pytest.mark.sqlite  # PostgreSQL keeps no such day
def test_a_day_nobody_can_read_silences_no_other(job, office, at):
    need(job, "GOOD")
    need(job, "BAD")
    with connection.cursor() as cursor:
        cursor.execute("UPDATE jobs_storedneed SET decide_by = '2026-11-31' WHERE material = 'BAD'")
    assert "item GOOD" in minute(at, MIDNIGHT)[0]
    assert "cannot be read" in AlertTrouble.objects.get().sentence


def test_a_deleted_job_takes_its_alerts_along(job, office, at):
    need(job)
    at(MIDNIGHT)
    look_for_alerts(MIDNIGHT)
    job.delete()
    assert minute(at, MIDNIGHT) == []


@pytest.mark.parametrize("place", ["mail_begun", "mail_sent"])
def test_a_worker_that_stops_while_sending_leaves_a_doubt_and_no_second_mail(job, office, at, place):
    from quoting.alerts.services.alert_errands import MailAlerts
    from quoting.platform.errands.services.errand_kinds import Claim

    need(job)
    at(MIDNIGHT)
    look_for_alerts(MIDNIGHT)
    errand = Errand.objects.get(kind=MAIL_ALERTS)
    with failpoints.ordered(**{place: "raise"}), pytest.raises(failpoints.FailpointError):
        MailAlerts().work(Claim(errand.pk, errand.kind, errand.key, errand.payload, "w", 1, lambda text, percent: None))
    before = len(post.outbox)
    assert run_errand(errand.pk, "w") == "failed"
    assert len(post.outbox) == before <= 1
    assert "may not have left" in Errand.objects.get(kind=MAIL_ALERTS).error


def test_a_mail_server_that_is_not_there_is_tried_again(job, office, at, monkeypatch):
    def refuse(self, messages):
        raise smtplib.SMTPConnectError(421, "busy")

    need(job)
    with monkeypatch.context() as patch:
        patch.setattr("django.core.mail.backends.locmem.EmailBackend.send_messages", refuse)
        assert minute(at, MIDNIGHT) == []
    assert len(minute(at, MIDNIGHT + timedelta(minutes=1))) == 1


def test_another_zone_of_the_firm_is_another_midnight(job, office, at):
    need(job)
    Firm.objects.update(time_zone="Europe/Lisbon")
    assert minute(at, EVENING - timedelta(hours=5)) == []
    assert len(minute(at, EVENING - timedelta(hours=4, minutes=57))) == 1


def test_a_closure_of_the_firm_brings_the_alert_forward(job, office, at):
    need(job, order_by=ORDER_BY + timedelta(days=1), decide_by=date(2026, 12, 9))
    assert minute(at, MIDNIGHT) == []
    add_closure({"first": "2026-12-08", "last": "2026-12-08"})
    minute(at, MIDNIGHT + timedelta(minutes=1))
    assert thresholds() == ["10", "5"]


def test_the_list_of_the_week_goes_out_once_at_its_hour_by_supplier(job, make_person, at):
    wanting_mail(make_person, alerts=False, weekly_list=True)
    seller = Supplier.objects.first()
    need(job, "A", date(2026, 12, 8), decide_by=date(2026, 12, 8), supplier=seller.code)
    need(job, "B", date(2026, 12, 4), supplier="", sign_off_workdays=0)
    need(job, "FAR", date(2027, 3, 1))
    StoredNeed.objects.create(
        job=job, material="GAP", name="Gap", supply="stocked", unit="ft", driven_by="length",
        cushion_workdays=3, sign_off_workdays=5,
    )  # fmt: skip
    assert minute(at, MONDAY_7 - timedelta(minutes=1)) == []
    [body] = minute(at, MONDAY_7, times=3)
    assert minute(at, MONDAY_7 + timedelta(days=1)) == [body]
    assert body.index("No supplier") < body.index(seller.name) < body.index("Order item A")
    assert "1 item without dates" in body and "item FAR" not in body
    assert WeeklyMail.objects.get().week == date(2026, 12, 7)


def test_what_has_to_be_decided_in_these_weeks_is_listed_though_it_is_ordered_later(job, make_person, at):
    """Ten working days after Monday 7 December 2026 is Monday the 21st: decided before, ordered after."""
    wanting_mail(make_person, alerts=False, weekly_list=True)
    need(job, "LATER", date(2026, 12, 23), decide_by=date(2026, 12, 18))
    need(job, "SHELF", date(2026, 12, 23), decide_by=date(2026, 12, 18), supply="stocked")
    [body] = minute(at, MONDAY_7)
    assert "Have the item LATER signed off: Corridor screen, by Fri 18 Dec 2026." in body
    assert "Order item LATER" not in body and "SHELF" not in body


def test_a_list_missed_on_monday_goes_out_on_recovery_and_the_next_in_its_own_week(job, make_person, at):
    wanting_mail(make_person, weekly_list=True, alerts=False)
    assert len(minute(at, MONDAY_7 + timedelta(days=2, hours=3))) == 1
    assert len(minute(at, MONDAY_7 + timedelta(days=7))) == 2


def test_whoever_asks_for_the_list_after_it_was_due_waits_for_the_next(job, make_person, at):
    person = make_person("owner")
    set_wish(person, address="o@firm.example", alerts=False, weekly_list=True, now=MONDAY_7 + timedelta(hours=1))
    assert minute(at, MONDAY_7 + timedelta(hours=2)) == []
    assert len(minute(at, MONDAY_7 + timedelta(days=7))) == 1


def test_the_firm_sets_its_days_and_its_hour(job, office, at):
    set_alert_times("3 1", "06:30")
    need(job)
    minute(at, MIDNIGHT + timedelta(days=3))
    assert sorted(Alert.objects.values_list("threshold", flat=True)) == ["decide"]
    assert set_alert_times(" 7, 2,7 ", "23:59").days_ahead == "7, 2"


@pytest.mark.parametrize(
    ("days", "hour", "field"),
    [("", "07:00", "days_ahead"), ("0", "07:00", "days_ahead"), ("99", "07:00", "days_ahead"),
     ("five", "07:00", "days_ahead"), ("5", "25:00", "list_at"), ("5", "7", "list_at"), ("5", "", "list_at")],
)  # fmt: skip
def test_times_that_are_none_are_refused_by_field(db, days, hour, field):
    with pytest.raises(EntryError) as refusal:
        set_alert_times(days, hour)
    assert refusal.value.field == field


@pytest.mark.parametrize("address", ["", "nobody", "a@b.example, c@d.example", "a@b.example\nBcc: x@y.example"])
def test_mail_to_nowhere_is_refused(make_person, address):
    with pytest.raises(Refused, match="Mail address"):
        set_wish(make_person("office"), address=address, alerts=True, weekly_list=False, now=EVENING)


def test_the_lead_gets_no_list_of_suppliers(make_person):
    with pytest.raises(Refused, match="office and the owner"):
        set_wish(make_person("lead"), address="a@b.example", alerts=True, weekly_list=True, now=EVENING)


@pytest.mark.faults
@pytest.mark.parametrize("zone", ["America/Santiago", "Europe/Lisbon"])
def test_over_days_with_an_outage_and_killed_schedulers_each_row_comes_once_in_its_time(job, office, zone):
    """The bench of tests/jobs/core/test_alerts.py, with its controls there, over the rows themselves."""
    zone, days = ZoneInfo(zone), 16
    Firm.objects.update(time_zone=zone.key)
    for day in alert_days.SHUT:
        add_closure({"first": str(day), "last": str(day)})
    items = [Watched(job.key, f"M-{n}", alert_days.CALENDAR.on_or_before(date(2028, 1, 8) + n * DAY)) for n in range(3)]
    for item in items:
        need(job, item.material, item.order_by, sign_off_workdays=0)
    down = [(alert_days.begins(date(2028, 1, 7), zone) - HOUR, alert_days.begins(date(2028, 1, 10), zone) + HOUR)]
    stored = alert_days.Kept()
    for now in minutes(date(2027, 12, 29), days, zone, down):
        with failpoints.ordered(alerts_kept="raise"), suppress(failpoints.FailpointError):
            look_for_alerts(now)
        for later in (now + MINUTE, now + MINUTE):
            look_for_alerts(later)
    for row in Alert.objects.all():
        stored.insert([AlertKey(job.key, row.material, row.day, row.threshold)], row.came_up_at)
    expected = alert_days.expected_days(items)
    begun = alert_days.begins(date(2027, 12, 29), zone) - 2 * MINUTE
    for key, (moment,) in stored.rows.items():
        due = max(alert_days.begins(expected.pop(key), zone), begun)
        back = next((end for start, end in down if start <= due < end), due)
        assert due <= moment <= back + 5 * MINUTE
    assert [key for key, day in expected.items() if day < date(2027, 12, 29) + days * DAY] == []
    assert AlertMail.objects.count() == Errand.objects.filter(kind=MAIL_ALERTS).count() > 0


def minutes(first, days, zone, down):
    begins = (
        alert_days.begins(first + n * DAY, zone) + minute for n in range(days) for minute in (-2 * MINUTE, 0 * DAY)
    )
    back = [end for _, end in down]
    return sorted([*(begin for begin in begins if not any(start <= begin < end for start, end in down)), *back])


@pytest.mark.faults
@pytest.mark.django_db(transaction=True)
class TestSchedulersAtOnce:
    @pytest.fixture(autouse=True)
    def everyone_has_looked(self, transactional_db, monkeypatch):
        together, known = threading.Barrier(4, timeout=20), due_alerts._known

        def looked(watching):
            keys = known(watching)
            together.wait()
            return keys

        monkeypatch.setattr(due_alerts, "_known", looked)

    def test_of_schedulers_that_found_the_same_one_asks_for_the_mail(self, job, office):
        need(job)
        at_once(4, partial(look_for_alerts, MIDNIGHT))
        assert sorted(Alert.objects.values_list("threshold", flat=True)) == ["10", "5", "decide"]
        assert AlertMail.objects.count() == Errand.objects.filter(kind=MAIL_ALERTS).count() == 1

    @pytest.mark.postgresql  # SQLite cannot take the rule away
    def test_without_the_rule_that_rows_are_unique_they_all_tell_it(self, job, office):
        """The control of the test above."""
        need(job)
        with connection.cursor() as cursor:
            cursor.execute("ALTER TABLE quoting_alert DROP CONSTRAINT alert_comes_up_once")
        try:
            at_once(4, partial(look_for_alerts, MIDNIGHT))
            assert Alert.objects.count() == 12
        finally:
            AlertMail.objects.all().delete()
            Alert.objects.all().delete()
            with connection.cursor() as cursor:
                unique = "UNIQUE (job_id, material, day, threshold)"
                cursor.execute(f"ALTER TABLE quoting_alert ADD CONSTRAINT alert_comes_up_once {unique}")


def test_the_list_of_the_week_says_what_to_ask_suppliers(job, make_person, at):
    wanting_mail(make_person, alerts=False, weekly_list=True)
    placed(job).save()
    [body] = minute(at, MONDAY_7)
    assert "To ask suppliers" in body and "has not confirmed PO-1" in body


def test_what_failed_stands_on_the_page_today_for_the_desk_alone(job, make_person, client, at):
    wanting_mail(make_person, "owner")
    need(job, "BAD", date(2026, 12, 2))
    at(MIDNIGHT)
    look_for_alerts(MIDNIGHT)
    Errand.objects.filter(kind=MAIL_ALERTS).update(state="failed", error="No word.", finished_at=MIDNIGHT)
    AlertTrouble.objects.create(job=job, material="BAD", sentence="Impossible.", since=MIDNIGHT, seen_at=MIDNIGHT)
    shown = {}
    for role in ("estimator", "lead"):
        client.force_login(make_person(role))
        shown[role] = client.get("/today/").content.decode()
    for text in ("No alert can come up for BAD", "Impossible.", "The mail with alerts to the-owner failed", "No word."):
        assert text in shown["estimator"]
    assert "Impossible" not in shown["lead"] and "No word" not in shown["lead"]


def audited(now):
    return audit(now)["alerts"]


def test_the_audit_misses_an_alert_that_no_look_has_kept(job, at):
    need(job)
    later = MIDNIGHT + timedelta(minutes=11)
    assert audited(later) == [], "with no tick at all it is for the health page to say so"
    minute(at, later)
    assert audited(later) == []
    Alert.objects.filter(threshold="5").delete()
    assert audited(later) == ["Alert '5' of BASE in J-0100 held on Thu 3 Dec 2026 and has not come up."]
