"""What goes otherwise than ordered, by mail: each fact once while it stands, and again when it comes back."""

from datetime import timedelta
from functools import partial

import pytest
from django.core import mail as post

from jobs.deliveries.services import deviations
from jobs.deliveries.services.deviations import settle
from quoting.alerts.models import DeviationAlert
from quoting.alerts.services import deviation_alerts
from quoting.alerts.services.due_alerts import look_for_alerts
from quoting.alerts.services.weekly import ask_for_lists
from quoting.platform import failpoints
from quoting.platform.errands.services.errands import run_errand, takeable
from tests.jobs.deliveries.test_deviations import confirm, found, promise
from tests.jobs.orders.test_left_to_order_pages import NOW, SIGNED, job, line, mill
from tests.quoting.platform.errands.test_errand_races import at_once
from tests.support.alerted import wanting_mail

__all__ = ["job", "line", "mill"]
pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
MINUTE = timedelta(minutes=1)


@pytest.fixture
def office(make_person):
    return wanting_mail(make_person)


@pytest.fixture
def look(frozen_clock, line, office):
    """look(minutes) is what happens so many minutes on; the bodies of mails that name what went otherwise."""

    def happens(minutes, times=1):
        moment = NOW + minutes * MINUTE
        frozen_clock.move_to(moment)
        for _ in range(times):
            look_for_alerts(moment)
        for errand in list(takeable(moment).filter(kind__startswith="mail_")):
            run_errand(errand.pk, "w")
        return [entry.body for entry in post.outbox if "Otherwise than ordered" in entry.body]

    return happens


def settled(how, **more):
    (entry,) = found()
    settle(entry.line, {"mark": entry.deviation.mark, "how": how, **more}, SIGNED, now=NOW)


def test_a_fact_is_told_once_however_often_it_is_looked_at(line, look):
    promise(line, "2027-01-28")
    for minutes in (0, 1, 2, 3, 60, 1500):
        bodies = look(minutes, times=3)
    (body,) = bodies
    assert "O-0001, J-0001 Reception screen: Promised too late." in body
    assert "6 working days too late" in body and "Ask " in body
    assert [entry.subject for entry in post.outbox if "1 otherwise than ordered" in entry.subject]


def test_what_ends_and_comes_back_is_told_again_and_another_fact_as_well(line, look):
    promise(line, "2027-01-28")
    look(0), look(3)
    promise(line, "2027-01-19")
    assert len(look(4)) == 1 and DeviationAlert.objects.filter(ended_at=None).count() == 0
    promise(line, "2027-01-28")
    look(5)
    assert len(look(8)) == 2
    promise(line, "2027-01-29")
    look(9)
    assert len(look(12)) == 3 and DeviationAlert.objects.count() == 3


def test_what_is_settled_before_its_mail_leaves_is_not_said(line, look):
    look(-5)  # what was due before leaves now
    promise(line, "2027-01-28")
    look(0)
    settled("accepted", reason="It can wait")
    assert look(3) == []


def test_what_was_confirmed_and_promised_at_once_goes_out_in_one_mail(line, look):
    confirm(line, amount=str(line.amount + 53), promised_on="2027-01-28")
    look(0)
    (body,) = look(3)
    assert "53.00 more" in body and "6 working days too late" in body


def test_a_look_that_dies_leaves_it_to_the_next(line, look):
    promise(line, "2027-01-28")
    with failpoints.ordered(alerts_kept="raise"), pytest.raises(failpoints.FailpointError):
        look(0)
    assert not DeviationAlert.objects.exists()
    look(1)
    assert len(look(4)) == 1


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("guarded", [True, False])
def test_of_two_looks_at_once_one_keeps_it(line, office, guarded, monkeypatch):
    """The control: without the look at what is known, the database alone holds the second row back."""
    promise(line, "2027-01-28")
    if not guarded:
        known = deviation_alerts.changed_facts
        monkeypatch.setattr(deviation_alerts, "changed_facts", lambda holding, _: known(holding, ()))
    at_once(2, partial(look_for_alerts, NOW))
    look_for_alerts(NOW + MINUTE)
    assert DeviationAlert.objects.count() == 1


def test_a_row_nobody_can_read_ends_no_fact(line, look, monkeypatch):
    promise(line, "2027-01-28")
    look(0)

    def unreadable(*_):
        raise ValueError("no day")

    monkeypatch.setattr(deviations, "facts_of", unreadable)
    look(1)
    assert DeviationAlert.objects.get().ended_at is None


def test_the_list_of_the_week_names_it_among_what_to_ask_and_lateness_once(line, look, office, frozen_clock):
    confirm(line, amount=str(line.amount + 53), promised_on="2027-01-28")
    wish = office.mail_wish
    wish.weekly_list = True
    wish.save()
    ask_for_lists(NOW)
    look(0)
    (body,) = [entry.body for entry in post.outbox if "To ask suppliers" in entry.body]
    assert "53.00 more" in body and body.count("6 working days too late") == 1
