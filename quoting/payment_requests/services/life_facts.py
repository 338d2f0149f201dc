"""What requests say of jobs' lives: what is open, and what can be asked for; some queries for many jobs."""

from collections import defaultdict
from collections.abc import Mapping
from datetime import date

from quoting.core.life.facts import RequestFacts, ToAskFacts
from quoting.core.money.requests import RELEASE, instalment_part, is_on_signing, place_of
from quoting.core.money.settling import Asked
from quoting.payment_requests.models import EventMark, PaymentRequest
from quoting.payment_requests.services.asked import asked_of
from quoting.quotes.models import QuoteInstalment

Found = tuple[tuple[RequestFacts, ...], tuple[ToAskFacts, ...]]


def request_facts(signed: Mapping[int, int], signed_on: Mapping[int, date]) -> dict[int, Found]:
    """By job. signed: the job of each accepted revision, by its id; signed_on: the day it was accepted."""
    requests = asked_of(signed.values())
    live = _live_parts(signed)
    ready = _ready(signed, signed_on, live)
    return {job: (_open(requests[job]), tuple(ready[pk])) for pk, job in signed.items()}


def _open(request: Asked) -> tuple[RequestFacts, ...]:
    standing = [status for status in request.requests if status.request.credited_by is None]
    return tuple(
        RequestFacts(
            status.request.number, status.request.what, status.request.due, status.request.to_pay.total, status.open
        )
        for status in standing
    )


def _live_parts(signed: Mapping[int, int]) -> dict[int, set[str]]:
    parts: defaultdict[int, set[str]] = defaultdict(set)
    rows = PaymentRequest.objects.filter(revision__in=signed, credits=None, credited_by=None)
    for revision, part in rows.values_list("revision", "part"):
        parts[revision].add(part)
    return parts


def _ready(
    signed: Mapping[int, int], signed_on: Mapping[int, date], live: Mapping[int, set[str]]
) -> dict[int, list[ToAskFacts]]:
    """Events that happened, with no request on them. What is due on signing counts once anything was asked for: before
    that it is asked for by the quote itself."""
    result: defaultdict[int, list[ToAskFacts]] = defaultdict(list)
    counts: defaultdict[int, int] = defaultdict(int)
    for revision, order, event in QuoteInstalment.objects.filter(revision__in=signed).values_list(
        "revision", "order", "event"
    ):
        counts[revision] += 1
        if is_on_signing(event) and live.get(revision) and instalment_part(order) not in live[revision]:
            result[revision].append(ToAskFacts(event, signed_on[revision]))
    marks = EventMark.objects.filter(revision__in=signed, voided_at=None).order_by("happened_on", "pk")
    for mark in marks:
        there = live.get(mark.revision_id, set())
        wanted = sum(1 for part in there if place_of(part) is not None)
        if mark.part not in there and (mark.part != RELEASE or wanted == max(counts[mark.revision_id], 1)):
            result[mark.revision_id].append(ToAskFacts(mark.event, mark.happened_on))
    return result
