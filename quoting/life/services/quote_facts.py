"""What of jobs' lives the quotes, their links, mails, answers, change notes and payments say; some queries for many."""

from collections import defaultdict
from collections.abc import Collection
from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from django.db.models import Count, Max, Min, Sum

from quoting.changes.models import ChangeNote, ChangeState
from quoting.client.models import ClientLink, LinkOpening, QuoteMail
from quoting.client.services.agreements import due_on_signing
from quoting.core.life.facts import FollowUpFacts, JobFacts, MoneyFacts, OutcomeFacts, RevisionFacts
from quoting.life.models import FollowUp, QuoteOutcome
from quoting.payment_requests.models import PaymentReceived
from quoting.payment_requests.services.life_facts import Found, request_facts
from quoting.platform.models.mail_ways import MailWay
from quoting.quotes.models import ClientAnswer, QuoteRevision, RevisionState, TakeBack

NOTHING = Decimal("0.00")
_GONE = (RevisionState.SUPERSEDED, RevisionState.WITHDRAWN)


@dataclass(frozen=True)
class _Sent:
    on: date | None
    opened: int = 0
    opened_on: date | None = None


def quoted(result: dict[int, JobFacts], zone: ZoneInfo) -> dict[int, JobFacts]:
    """The same facts of jobs, by id, with what their quotes say. zone: the firm's, asked for once."""
    rows = _latest(result)
    sent, money = _sent_of(rows, zone), _money_of(rows)
    since = {row.pk: _since(row, zone) for row in rows.values()}
    prices = _prices(rows)
    waiting = _unsigned([row.pk for row in rows.values()])
    signed = {row.pk: job for job, row in rows.items() if row.state == RevisionState.ACCEPTED}
    requests = request_facts(signed, since) if signed else {}
    outcomes = _outcomes(result, {job: row.pk for job, row in rows.items()})
    wanted = _follow_ups([row.pk for row in rows.values()])
    return {
        job: _with(facts, rows.get(job), since, prices, sent, money, waiting, requests, wanted, outcomes.get(job))
        for job, facts in result.items()
    }


def _latest(job_ids: Collection[int]) -> dict[int, QuoteRevision]:
    """Of each job the accepted revision, else the latest that was neither superseded nor withdrawn."""
    rows = QuoteRevision.objects.filter(quote__job__in=job_ids).exclude(state__in=_GONE)
    rows = rows.select_related("quote", "answer__taken_back").defer("snapshot").order_by("number")
    revisions: dict[int, QuoteRevision] = {}
    for row in rows:
        present = revisions.get(row.quote.job_id)
        if present is None or present.state != RevisionState.ACCEPTED:
            revisions[row.quote.job_id] = row
    return revisions


def _with(
    facts: JobFacts,
    row: QuoteRevision | None,
    days: dict[int, date],
    prices: dict[int, Decimal],
    sent: dict[int, _Sent],
    money: dict[int, MoneyFacts],
    waiting: dict[int, tuple[int, ...]],
    requests: dict[int, Found],
    wanted: dict[int, FollowUpFacts],
    outcome: OutcomeFacts | None,
) -> JobFacts:
    if row is None:
        return replace(facts, outcome=outcome)
    how, since = sent.get(row.pk, _Sent(None)), days[row.pk]
    revision = RevisionFacts(
        row.number, row.quoted_on, row.valid_until, row.state, since, how.on, how.opened, how.opened_on,  # type: ignore[arg-type]
        row.state_by_name if row.state != RevisionState.ISSUED else "", row.state_reason, prices[row.pk],
    )  # fmt: skip
    signed = row.state == RevisionState.ACCEPTED
    standing, to_ask = requests.get(row.quote.job_id, ((), ()))
    return replace(
        facts,
        revision=revision,
        signed_on=since if signed else None,
        money=money.get(row.pk),
        unsigned=waiting.get(row.pk, ()) if signed else (),
        requests=standing,
        to_ask=to_ask,
        estimator=row.issued_by_name or facts.estimator,
        follow_up=wanted.get(row.pk) if row.state == RevisionState.ISSUED else None,
        outcome=outcome,
    )


def _since(row: QuoteRevision, zone: ZoneInfo) -> date:
    """The day of the answer or of the notice, where there is one; else of the state."""
    answer: ClientAnswer | None = getattr(row, "answer", None)
    back: TakeBack | None = getattr(answer, "taken_back", None) if answer else None
    if row.state == RevisionState.TAKEN_BACK and back is not None:
        return back.given_on
    if row.state in (RevisionState.ACCEPTED, RevisionState.DECLINED) and answer is not None:
        return answer.answered_on
    return row.state_at.astimezone(zone).date()


def _sent_of(rows: dict[int, QuoteRevision], zone: ZoneInfo) -> dict[int, _Sent]:
    ids = [row.pk for row in rows.values()]
    mails = QuoteMail.objects.filter(revision__in=ids, change_note=None, sent_at__isnull=False)
    left = mails.exclude(went_by__in=[MailWay.FOLDER, MailWay.LOG])
    mailed = dict(left.order_by().values_list("revision").annotate(Min("sent_at")))
    handed = dict(
        ClientLink.objects.filter(revision__in=ids, handed_at__isnull=False)
        .order_by()
        .values_list("revision")
        .annotate(Min("handed_at"))
    )
    openings = LinkOpening.objects.filter(link__revision__in=ids).order_by().values_list("link__revision")
    opened = {pk: (count, last) for pk, count, last in openings.annotate(Count("pk"), Max("opened_on"))}
    return {pk: _Sent(_first_day(zone, mailed.get(pk), handed.get(pk)), *opened.get(pk, (0, None))) for pk in ids}


def _first_day(zone: ZoneInfo, *moments: datetime | None) -> date | None:
    first = min((moment for moment in moments if moment is not None), default=None)
    return first.astimezone(zone).date() if first else None


def _money_of(rows: dict[int, QuoteRevision]) -> dict[int, MoneyFacts]:
    """Of accepted revisions: contract sum with signed notes, and what came in of their jobs."""
    signed = {row.pk: job for job, row in rows.items() if row.state == RevisionState.ACCEPTED}
    notes = ChangeNote.objects.filter(revision__in=signed, state=ChangeState.SIGNED).order_by()
    added = dict(notes.values_list("revision").annotate(Sum("total")))
    paid = PaymentReceived.objects.filter(job__in=signed.values(), undone_at=None).order_by().values_list("job")
    came: dict[int, tuple[Any, ...]] = {
        job: (total, last) for job, total, last in paid.annotate(Sum("amount"), Max("received_on"))
    }
    due = due_on_signing(list(signed))
    money = {}
    for pk, job in signed.items():
        answer: ClientAnswer | None = getattr(rows[job], "answer", None)
        contract = (answer.total if answer else rows[job].total) + added.get(pk, NOTHING)
        money[pk] = MoneyFacts(contract, due.get(pk), *came.get(job, (NOTHING, None)))
    return money


def _prices(rows: dict[int, QuoteRevision]) -> dict[int, Decimal]:
    """Before tax; of accepted ones with what was chosen and the notes signed since."""
    signed = [row.pk for row in rows.values() if row.state == RevisionState.ACCEPTED]
    notes = ChangeNote.objects.filter(revision__in=signed, state=ChangeState.SIGNED).order_by()
    added = dict(notes.values_list("revision").annotate(Sum("price")))
    prices = {}
    for row in rows.values():
        answer: ClientAnswer | None = getattr(row, "answer", None)
        prices[row.pk] = (answer.price if answer and row.pk in signed else row.price) + added.get(row.pk, NOTHING)
    return prices


def _unsigned(revisions: Collection[int]) -> dict[int, tuple[int, ...]]:
    result: defaultdict[int, tuple[int, ...]] = defaultdict(tuple)
    rows = ChangeNote.objects.filter(revision__in=revisions, state=ChangeState.ISSUED).order_by("number")
    for revision, number in rows.values_list("revision", "number"):
        result[revision] += (number,)
    return result


def _follow_ups(revisions: Collection[int]) -> dict[int, FollowUpFacts]:
    rows = FollowUp.objects.filter(revision__in=revisions)
    return {row.revision_id: FollowUpFacts(row.day, row.person) for row in rows}


def _outcomes(job_ids: Collection[int], latest: dict[int, int]) -> dict[int, OutcomeFacts]:
    """Those that stand and are of the latest revision; one issued since makes them count no more."""
    rows = QuoteOutcome.objects.filter(job__in=job_ids, undone_at=None)
    return {
        row.job_id: OutcomeFacts(row.get_kind_display(), row.words, row.said_on, row.entered_by_name)
        for row in rows
        if row.revision_id == latest.get(row.job_id)
    }
