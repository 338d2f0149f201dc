"""The row of each job's life: always what its facts say, whoever wrote them, in whatever order."""

import random
from contextlib import suppress
from datetime import datetime, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from jobs.buying.services import kept_orders
from jobs.deliveries.models import ReceiptLine, ReturnedGoods
from jobs.deliveries.services.claims import claim
from jobs.deliveries.services.confirming_orders import enter_confirmation
from jobs.deliveries.services.deviations import otherwise, settle
from jobs.deliveries.services.ending_orders import end_line
from jobs.deliveries.services.promises import add_promise
from jobs.deliveries.services.receiving import check_in
from jobs.deliveries.services.returns import credit_return, send_back
from jobs.jobs.models import Job
from jobs.jobs.services import changes
from jobs.jobs.services.clients import save_client
from jobs.jobs.services.jobs import delete_job
from jobs.jobs.services.open_jobs import close_job, reopen_job
from jobs.needs.services.date_recalculation import recompute_dates
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.orders.services import order_changes
from jobs.orders.services.order_changes import orders_changed
from jobs.orders.services.releasing import ask_for_sample, end_release
from jobs.schedule.services.actual_days import begin_activity, end_activity, take_begin_back, take_end_back
from jobs.walls.services.walls import save_wall
from jobs.whole_jobs.services.job_entries import save_job_head
from quoting.client.services.openings import count_opening
from quoting.life.models import KeptLife, QuoteOutcome
from quoting.life.services import following, keeping
from quoting.life.services.outcomes import enter_outcome, take_outcome_back
from quoting.life.services.reading import life_of_job, lives_of
from quoting.payment_requests.services.payments_received import enter_payment, undo_payment
from quoting.platform.errands.models import Errand
from quoting.platform.people.signatures import Signature
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.revisions import mark_lapsed
from quoting.service.audit.life_audit import lives_are_as_the_facts_say
from quoting.service.audit.order_audit import what_is_kept_of_orders_is_what_their_rows_say
from tests.jobs.orders.test_left_to_order_pages import BASE, NOW, SIGNED, TODAY, first_good, job, line, mill
from tests.support.answered import accept, decline, secret_to, with_paper
from tests.support.worked import TODAY as QUOTED
from tests.support.worked import issued, small_job

__all__ = ["job", "line", "mill"]
pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
BY = Signature("R. Sallow", QUOTED)


@pytest.fixture
def small(frozen_clock):
    frozen_clock.move_to(datetime.fromisoformat("2026-11-25T15:00:00+00:00"))
    result = small_job()
    keep_needs(result.pk, *find_needs(result.pk, QUOTED), NOW)
    return result


def read(job, today=QUOTED):
    return life_of_job(job, today)


def astray():
    return [*lives_are_as_the_facts_say(NOW), *what_is_kept_of_orders_is_what_their_rows_say(NOW)]


def test_a_job_worked_up_is_measured_and_priced_since_that_day(small):
    facts = KeptLife.objects.get(job=small).to_core()
    assert (facts.measured_on, facts.priced_on, facts.before_sending) == (QUOTED, QUOTED, 0)
    assert read(small).life.next.text == "Send the quotation"


def test_a_job_without_a_wall_is_an_enquiry(frozen_clock, small):
    save_job_head(small, {"job": {"title": "Second"}}, seen_version=None)
    empty = small_job("J-0200", walls=[], pricing=None)
    assert read(empty).life.next.text == "Measure the first wall"


def test_issuing_alone_sends_nothing_and_a_link_handed_over_does(small):
    revision = issued(small)
    assert read(small).life.station == "priced"
    secret_to(revision, by_hand=True)
    assert read(small).life.station == "sent"


def test_an_answer_on_the_clients_page_moves_the_job_in_that_transaction(small):
    accept(with_paper(issued(small)))
    assert KeptLife.objects.get(job=small).station == "signed"
    other = small_job("J-0101")
    decline(with_paper(issued(other, "second")), reason="Too dear")
    assert (read(other).life.end.kind, read(other).life.end.why) == ("declined", "Too dear")


def test_a_quote_whose_last_day_is_over_has_expired_before_anybody_marks_it(small):
    revision = issued(small)
    later = revision.valid_until + timedelta(days=1)
    assert (read(small, revision.valid_until).life.end, read(small, later).life.end.kind) == (None, "expired")
    mark_lapsed(NOW, later)
    assert (read(small, later).life.end.kind, astray()) == ("expired", [])


def test_a_lost_quote_ends_the_chain_until_it_is_taken_back_or_quoted_again(small):
    issued(small)
    enter_outcome(small, {"kind": "price", "words": "by 900"}, BY, now=NOW)
    assert read(small).life.end.why == "Lost to price: by 900"
    issued(small, "again")
    assert read(small).life.end is None
    enter_outcome(small, {"kind": "put_off"}, BY, now=NOW)
    take_outcome_back(small, BY, now=NOW)
    assert read(small).life.end is None and QuoteOutcome.objects.filter(undone_at=None).count() == 0


def test_the_same_outcome_said_twice_is_one_and_another_takes_its_place(small):
    assert [enter_outcome(small, {"kind": "price"}, BY, now=NOW)[1] for _ in range(2)] == [True, False]
    enter_outcome(small, {"kind": "put_off"}, BY, now=NOW)
    assert QuoteOutcome.objects.get(undone_at=None).kind == "put_off"


@pytest.mark.parametrize(
    ("text", "path"),
    [({"kind": "other"}, "words"), ({"kind": "price", "said_on": "2026-11-26"}, "said_on"), ({"kind": "gone"}, "kind")],
)
def test_an_outcome_that_cannot_be_names_what_is_wrong(small, text, path):
    with pytest.raises(DocumentError) as refused:
        enter_outcome(small, text, BY, now=NOW)
    assert refused.value.complaints[0].path == path


def test_a_signed_job_is_not_lost(small):
    accept(with_paper(issued(small)))
    with pytest.raises(Refused):
        enter_outcome(small, {"kind": "price"}, BY, now=NOW)


def test_a_closed_job_keeps_what_was_found_of_it(small):
    before = KeptLife.objects.get(job=small).to_core()
    close_job(small, QUOTED)
    keep_needs(small.pk, *find_needs(small.pk, QUOTED), NOW)
    after = KeptLife.objects.get(job=small).to_core()
    assert (after.closed_on, after.wanted, after.measured_on) == (QUOTED, before.wanted, before.measured_on)
    assert astray() == []


def test_a_thousand_days_on_nothing_but_the_day_has_changed_the_row(small):
    issued(small)
    row = KeptLife.objects.get(job=small)
    lives = [life_of_job(small, QUOTED + timedelta(days=days)).life for days in (0, 1000)]
    assert [live.end and live.end.kind for live in lives] == [None, "expired"]
    assert KeptLife.objects.get(job=small).facts == row.facts


@pytest.mark.parametrize(
    "do", [lambda jobs: following.facts_changed([entry.pk for entry in jobs]), lambda jobs: lives_of(jobs, QUOTED)]
)
def test_many_lives_are_kept_and_read_in_as_many_queries_as_one(small, do):
    jobs = [small, *(small_job(f"J-01{number}") for number in range(10, 13))]
    following.keep_in_lots([entry.pk for entry in jobs])

    def asked(some):
        with CaptureQueriesContext(connection) as result:
            do(some)
        return len(result)

    assert asked(jobs) <= asked(jobs[:1])


def test_a_job_that_goes_takes_its_row_with_it(small):
    delete_job(small)
    assert not KeptLife.objects.exists()


def test_the_tick_makes_rows_that_are_missing_and_turns_those_whose_day_came(small):
    KeptLife.objects.all().delete()
    following.catch_up_lives(NOW)
    keep_needs(small.pk, *find_needs(small.pk, QUOTED), NOW)
    assert KeptLife.objects.get().station == "priced" and Errand.objects.filter(kind="date_job", key=str(small.pk))
    KeptLife.objects.update(turns_on=QUOTED, station="paid")
    following.catch_up_lives(datetime.fromisoformat("2026-11-25T15:00:00+00:00"))
    assert KeptLife.objects.get().station == "priced"


# What people, suppliers, clients and the day do to a job, each by its own service.
def steps(job, line):
    revision, turn = QuoteRevision.objects.filter(quote__job=job).first(), iter(range(10_000))

    def said(**more):
        return {"request_key": f"k{next(turn)}", **more}

    def fresh():
        return Job.objects.get(pk=job.pk)

    def undo_a_payment():
        row = job.payments_received.filter(undone_at=None).first()
        if row:
            undo_payment(row, {"reason": "twice"}, SIGNED, now=NOW)

    def settle_something():
        for deviation in otherwise(TODAY).deviations[:1]:
            settle(deviation.line, {"mark": deviation.deviation.mark, "how": "asked_again"}, SIGNED, now=NOW)

    def claim_something():
        for row in ReceiptLine.objects.filter(line=line, damaged__gt=0)[:1]:
            claim(row, {}, SIGNED)

    def credit_something():
        for row in ReturnedGoods.objects.filter(line=line)[:1]:
            credit_return(row, {"credited": "5.00"}, SIGNED)

    def measure_again():
        keep_needs(job.pk, *find_needs(job.pk, TODAY), NOW)

    def receive(**states):
        lines = [{"place": line.place, "pieces": first_good(**states)}]
        document = said(received_on=TODAY.isoformat(), lines=lines, seen_deliveries=line.order.deliveries.count())
        check_in(line.order, document, SIGNED, now=NOW)

    def confirm(amount):
        document = said(received_on=TODAY.isoformat(), lines=[{"place": 1, "amount": amount}])
        enter_confirmation(line.order, document, SIGNED, now=NOW)

    def wall():
        row = fresh().walls.first()
        return save_wall(fresh(), row.to_core(), seen_version=row.version)

    return [
        lambda: enter_payment(
            job, said(amount="100.00", received_on=TODAY.isoformat(), paid_ahead=True), SIGNED, now=NOW
        ),
        undo_a_payment,
        settle_something,
        measure_again,
        wall,
        lambda: recompute_dates(TODAY),
        lambda: receive(good=1),
        lambda: receive(good=0, damaged=1),
        lambda: confirm("999.00"),
        claim_something,
        lambda: send_back(line, said(quantity="1", reason="cracked"), SIGNED, now=NOW),
        credit_something,
        lambda: end_line(line, {"reason": "no more of it"}, SIGNED),
        lambda: add_promise(
            line, {"promised_on": "2027-01-28", "told_on": TODAY.isoformat(), "reason": "full"}, SIGNED, now=NOW
        ),
        lambda: ask_for_sample(job, BASE, "A foot of it", SIGNED, NOW),
        lambda: end_release(job, BASE, reason="another", by="I. Quarrell", now=NOW),
        lambda: begin_activity(fresh(), "setting-out", SIGNED),
        lambda: end_activity(fresh(), "setting-out", SIGNED),
        lambda: take_end_back(fresh(), "setting-out"),
        lambda: take_begin_back(fresh(), "setting-out"),
        lambda: close_job(fresh(), TODAY),
        lambda: reopen_job(fresh()),
        lambda: save_client({"name": f"Client {next(turn)}"}, fresh().client_id),
        lambda: save_job_head(fresh(), {"job": {"people": [{"name": "Teodor", "part": "lead"}]}}, seen_version=None),
        lambda: enter_outcome(fresh(), {"kind": "price"}, SIGNED, now=NOW),
        lambda: take_outcome_back(fresh(), SIGNED, now=NOW),
        lambda: count_opening(revision.links.first(), now=NOW, today=TODAY) if revision else None,
    ]


def walked(job, line, seed, most=12):
    chance, doing = random.Random(seed), steps(job, line)
    for _ in range(most):
        with suppress(Refused, DocumentError):
            chance.choice(doing)()
        yield


@pytest.mark.parametrize("seed", range(3))
def test_after_whatever_is_written_the_row_says_what_the_facts_say(job, line, seed):
    orders_changed([job.pk])
    assert astray() == []
    for _ in walked(job, line, seed):
        assert astray() == []


def test_without_what_keeps_orders_or_what_is_left_to_order_those_rows_fall_behind(job, line, monkeypatch):
    """Control: the walk does change both."""
    orders_changed([job.pk])
    monkeypatch.setattr(kept_orders, "_keep", lambda order_ids: None)
    monkeypatch.setattr(keeping, "keep_to_order", lambda job_ids: None)
    text = [entry for seed in range(2) for _ in walked(job, line, seed) for entry in astray()]
    assert any("Today reads" in entry for entry in text) and any("left to order" in entry for entry in text)


def test_without_the_hooks_the_row_falls_behind(job, line, monkeypatch):
    """Control: the walk does change facts."""
    orders_changed([job.pk])
    monkeypatch.setattr(changes, "after_fact", [])
    monkeypatch.setattr(order_changes, "after_ordering", [])
    assert any(astray() for _ in walked(job, line, 0))
