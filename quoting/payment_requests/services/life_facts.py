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
    asked = asked_of(signed.values())
    live = _live_parts(signed)
    ready = _ready(signed, signed_on, live)
    return {job: (_open(asked[job]), tuple(ready[pk])) for pk, job in signed.items()}


def _open(asked: Asked) -> tuple[RequestFacts, ...]:
    standing = [one for one in asked.requests if one.request.credited_by is None]
    return tuple(
        RequestFacts(one.request.number, one.request.what, one.request.due, one.request.to_pay.total, one.open)
        for one in standing
    )


def _live_parts(signed: Mapping[int, int]) -> dict[int, set[str]]:
    found: defaultdict[int, set[str]] = defaultdict(set)
    rows = PaymentRequest.objects.filter(revision__in=signed, credits=None, credited_by=None)
    for revision, part in rows.values_list("revision", "part"):
        found[revision].add(part)
    return found


def _ready(
    signed: Mapping[int, int], signed_on: Mapping[int, date], live: Mapping[int, set[str]]
) -> dict[int, list[ToAskFacts]]:
    """Events that happened, with no request on them. What is due on signing counts once anything was asked for: before
    that it is asked for by the quote itself."""
    found: defaultdict[int, list[ToAskFacts]] = defaultdict(list)
    counts: defaultdict[int, int] = defaultdict(int)
    for revision, order, event in QuoteInstalment.objects.filter(revision__in=signed).values_list(
        "revision", "order", "event"
    ):
        counts[revision] += 1
        if is_on_signing(event) and live.get(revision) and instalment_part(order) not in live[revision]:
            found[revision].append(ToAskFacts(event, signed_on[revision]))
    marks = EventMark.objects.filter(revision__in=signed, voided_at=None).order_by("happened_on", "pk")
    for mark in marks:
        there = live.get(mark.revision_id, set())
        asked = sum(1 for part in there if place_of(part) is not None)
        if mark.part not in there and (mark.part != RELEASE or asked == max(counts[mark.revision_id], 1)):
            found[mark.revision_id].append(ToAskFacts(mark.event, mark.happened_on))
    return found
