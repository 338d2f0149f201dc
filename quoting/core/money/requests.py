"""What a payment request asks for: its part of the price and of the tax, notes, the deposit credited, what is held."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from quoting.core.money.request_parts import (
    NO_PARTS,
    NOTHING,
    Agreed,
    Parts,
    RequestError,
    cut,
    deposit_parts,
    instalment_parts,
    sum_of,
)

DEPOSIT, NOTES, RELEASE = "deposit", "notes", "release"
_PLACE = re.compile(r"instalment ([0-9]{1,4})")
# Ours: an instalment is due on signing when its event says so.
_ON_SIGNING = re.compile(r"\b(accept|sign)", re.IGNORECASE)


@dataclass(frozen=True)
class Request:
    """part: `DEPOSIT`, `instalment_part`, `NOTES` alone, or `RELEASE`. asked: of the part, before anything is taken
    off. notes: numbers of the change notes that go with it; noted: what they come to. credited: of the deposit."""

    part: str
    asked: Parts
    notes: tuple[int, ...] = ()
    noted: Parts = NO_PARTS
    credited: Parts = NO_PARTS
    held: Parts = NO_PARTS

    @property
    def to_pay(self) -> Parts:
        return self.asked + self.noted - self.credited - self.held


@dataclass(frozen=True)
class SignedNote:
    number: int
    parts: Parts


def instalment_part(place: int) -> str:
    """The name of an instalment among the parts; place: in the order of the quote, from 0."""
    return f"instalment {place}"


def place_of(part: str) -> int | None:
    """The place of an instalment; None of any other part.

    >>> place_of(instalment_part(2)), place_of(DEPOSIT)
    (2, None)
    """
    match = _PLACE.fullmatch(part)
    return int(match[1]) if match else None


def is_on_signing(event: str) -> bool:
    """Whether the acceptance itself is the event. Raises nothing. Source: own rule.

    >>> is_on_signing("On acceptance"), is_on_signing("Design agreed")
    (True, False)
    """
    return _ON_SIGNING.search(event) is not None


def next_request(agreed: Agreed, part: str, before: Sequence[Request], signed: Sequence[SignedNote]) -> Request:
    """Work out a request.

    Args:
        agreed: what was accepted.
        part: what is asked for.
        before: the requests that stand, without those credited by another.
        signed: every change note that is signed; those on no request before go with this one, whole.

    Returns:
        The request. All of them, with the deposit and what is released, come to the contract and its tax exactly.

    Raises:
        RequestError: a part that does not exist, was asked for already or comes too early; nothing to ask for.

    Source: trade rules, money (own rule); compare IFRS 15 on retentions, which are not financing.

    >>> from decimal import Decimal
    >>> from quoting.core.prices.payments import Instalment
    >>> agreed = Agreed(Parts(Decimal("100.00"), Decimal("8.25")), (Instalment("on completion", Decimal(1)),))
    >>> next_request(agreed, "instalment 0", (), ()).to_pay.total
    Decimal('108.25')
    """
    _check_order(agreed, part, before)
    notes = () if part == DEPOSIT else tuple(note for note in signed if note.number not in _noted(before))
    if part == NOTES and not notes:
        raise RequestError("Every signed change note is on a request already, so there is nothing to ask for.")
    wanted, noted = _asked(agreed, part, before), sum_of(note.parts for note in notes)
    if part == DEPOSIT:
        return Request(part, wanted)
    gross = wanted + noted
    is_released = part == RELEASE or any(request.part == RELEASE for request in before)
    held = NO_PARTS if is_released or agreed.retention is None else agreed.retention.of(gross)
    left = _deposit_left(before)
    still_held = sum_of(request.held for request in before) + held if not is_released else NO_PARTS
    is_last = not _open_places(agreed, (*before, Request(part, wanted))) and still_held == NO_PARTS
    amount = left.total if is_last else min(left.total, max(NOTHING, (gross - held).total))
    return Request(part, wanted, tuple(note.number for note in notes), noted, cut(left, amount), held)


def _check_order(agreed: Agreed, part: str, before: Sequence[Request]) -> None:
    wanted = {request.part for request in before}
    if part != NOTES and part in wanted:
        raise RequestError("It is on a request already. Credit that request first.")
    if part == DEPOSIT and before:
        raise RequestError("The deposit is asked for before anything else; it is part of the instalments now.")
    if part == DEPOSIT and not agreed.deposit:
        raise RequestError("No deposit is agreed.")
    place = place_of(part)
    if place is not None and place >= len(agreed.instalments):
        raise RequestError(f"The quote has {len(agreed.instalments)} instalments; there is no number {place + 1}.")
    if part in (NOTES, RELEASE) and _open_places(agreed, before):
        what = "Signed notes go" if part == NOTES else "What is held is released"
        raise RequestError(f"{what} with or after the last instalment: ask for that first.")
    if place is None and part not in (DEPOSIT, NOTES, RELEASE):
        raise RequestError(f"{part!r} is nothing that can be asked for.")


def _asked(agreed: Agreed, part: str, before: Sequence[Request]) -> Parts:
    place = place_of(part)
    if place is not None:
        return instalment_parts(agreed)[place]
    if part == DEPOSIT:
        return deposit_parts(agreed)
    held = sum_of(request.held for request in before)
    if part == RELEASE and held == NO_PARTS:
        raise RequestError("Nothing is held, so there is nothing to release.")
    return held if part == RELEASE else NO_PARTS


def _noted(before: Sequence[Request]) -> frozenset[int]:
    return frozenset(number for request in before for number in request.notes)


def _deposit_left(before: Sequence[Request]) -> Parts:
    part = sum_of(request.asked for request in before if request.part == DEPOSIT)
    return part - sum_of(request.credited for request in before)


def _open_places(agreed: Agreed, before: Sequence[Request]) -> list[int]:
    wanted = {request.part for request in before}
    return [place for place in range(len(agreed.instalments)) if instalment_part(place) not in wanted]
