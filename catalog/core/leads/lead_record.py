"""The lead-time record: how long orders really took, and how many days to plan with at a chosen confidence.

What is learnt is the ratio of actual over quoted working days, in logarithms. A material at its supplier starts from
what the supplier's other materials did, those from what the whole firm saw, and the firm, until it has enough
receipts of its own, from a starting assumption. Each step shrinks what was seen towards the step above::

    m  = (k0*m0 + n*mean) / (k0 + n)
    s2 = (nu0*v0 + SS + k0*n/(k0 + n) * (mean - m0)**2) / (nu0 + n)
    plan = quoted * exp(m + t(confidence, nu0 + n) * s * sqrt(1 + 1/(k0 + n)))

with n logarithms of that mean and sum of squares SS about it. It is the predictive distribution of a normal sample
whose mean and variance are both unknown, under the conjugate prior (Gelman et al., Bayesian Data Analysis, 3.3).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.declared import As, Text, Whole
from catalog.core.ground.refusal import InvalidValue
from catalog.core.leads.lead_times import MAX_PRODUCTION_DAYS, MAX_TRANSIT_WORKDAYS
from catalog.core.leads.student_t import student_t_quantile

WINDOW = 8
"""Receipts that count for one material or supplier: older ones would hide a drift."""

ENOUGH_FOR_THE_FIRM = 30
"""Receipts from which the firm's own record stands in for the starting assumption."""

JUDGED = 50
"""Of how many of the newest receipts the share kept is told."""

MIN_CONFIDENCE, MAX_CONFIDENCE = 0.5, 0.995
MAX_QUOTED_WORKDAYS = MAX_PRODUCTION_DAYS + MAX_TRANSIT_WORKDAYS
MAX_ACTUAL_WORKDAYS = 5_000
_ROUNDING = 1e-9
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


class LeadRecordError(InvalidValue):
    """A receipt, a share or a cost that nothing can be learnt from; the message says what would be right."""


@dataclass(frozen=True)
class LeadReceipt:
    """One order line as it came: what had been quoted, and what it took.

    Args:
        quoted_workdays: the supplier's working days quoted from order to arrival, 1 to 990.
        actual_workdays: those it took, 0 to 5,000; an arrival on the day of the order counts as one day. Of an order
            still open, its age.
        received_on: the day it came; of an order still open, the day its age was counted.
        supplier: the supplier's code.
        material: the material's code.
        is_open: whether it has not come yet, so that the days are only a lower bound.
        ordered_on: the day it was ordered, None when that is not known.

    Raises:
        LeadRecordError: days that are not whole or out of range, no supplier or material, or not a day.

    Source: own rule; quoted lead times of nought teach nothing.

    >>> LeadReceipt(30, 39, date(2027, 3, 1), "MILL", "BASE").ratio
    1.3
    """

    quoted_workdays: Annotated[int, Whole(1, MAX_QUOTED_WORKDAYS)]
    actual_workdays: Annotated[int, Whole(0, MAX_ACTUAL_WORKDAYS)]
    received_on: date
    supplier: Annotated[str, Text(60)]
    material: Annotated[str, Text(60)]
    is_open: Annotated[bool, As(aside=True)] = False
    ordered_on: date | None = None

    def __post_init__(self) -> None:
        _check_quoted(self.quoted_workdays)
        _check_whole(self.actual_workdays, "Actual working days", 0, MAX_ACTUAL_WORKDAYS)
        if not (self.supplier.strip() and self.material.strip()):
            raise LeadRecordError("A receipt needs the code of its supplier and of its material.")
        for day in (self.received_on, *([] if self.ordered_on is None else [self.ordered_on])):
            if isinstance(day, datetime) or not isinstance(day, date):
                raise LeadRecordError(f"A receipt needs the day it came, not {day!r}.")

    @property
    def ratio(self) -> float:
        """Actual over quoted working days.

        Returns:
            The ratio, over 0: 1 when the order came as quoted, more when it was late.

        Source: own rule.

        >>> LeadReceipt(10, 0, date(2027, 3, 1), "MILL", "BASE").ratio
        0.1
        """
        return max(self.actual_workdays, 1) / self.quoted_workdays

    @property
    def counts(self) -> bool:
        """Tell whether anything can be learnt from it yet.

        Returns:
            True for what came, and for what is open longer than was quoted; a younger open order says nothing.

        Source: own rule (an overdue open order counts at its age).

        >>> LeadReceipt(30, 30, date(2027, 3, 1), "MILL", "BASE", is_open=True).counts
        False
        """
        return not self.is_open or self.actual_workdays > self.quoted_workdays

    @property
    def known_before(self) -> date:
        """The day whose knowledge its own plan could rest on.

        Returns:
            The day it was ordered, or the day it came where that is not known.

        Source: own rule.

        >>> LeadReceipt(30, 31, date(2027, 3, 1), "MILL", "BASE", False, date(2027, 1, 18)).known_before
        datetime.date(2027, 1, 18)
        """
        return self.ordered_on or self.received_on


@dataclass(frozen=True)
class LeadPrior:
    """What is believed of the logarithm of actual over quoted before anything is seen.

    Args:
        k0: how many receipts the mean is worth, over 0.
        m0: the mean logarithm of the ratio.
        v0: the variance of the logarithm, 0 or more.
        nu0: how many receipts the variance is worth, a whole number from 1.
        based_on: receipts of the firm it was drawn from; 0 for the starting assumption.

    Raises:
        LeadRecordError: a weight or variance out of range, or a figure that is not finite.

    Source: own starting figures (a tenth over the quote, spread 0.22), held against simulated records.

    >>> round(math.exp(LeadPrior().m0), 2), round(math.sqrt(LeadPrior().v0), 2)
    (1.1, 0.22)
    """

    k0: float = 2.0
    m0: float = math.log(1.10)
    v0: float = 0.22**2
    nu0: int = 6
    based_on: int = 0

    def __post_init__(self) -> None:
        if not all(math.isfinite(figure) for figure in (self.k0, self.m0, self.v0)):
            raise LeadRecordError("The figures of a prior must be finite numbers.")
        if not (self.k0 > 0 and self.v0 >= 0 and self.nu0 >= 1):
            raise LeadRecordError("A prior needs k0 over 0, v0 of 0 or more and nu0 of at least 1.")


@dataclass(frozen=True)
class KeptShare:
    """How many orders came within the days that would have been planned when they were placed.

    kept: those that did. judged: all that came, kept or not.
    """

    kept: int
    judged: int

    def __post_init__(self) -> None:
        if not 0 <= self.kept <= self.judged:
            raise LeadRecordError(f"Of {self.judged} receipts {self.kept} cannot have kept to the plan.")

    @property
    def share(self) -> float | None:
        """The share kept.

        Returns:
            0 to 1, or None while nothing has come: no share, rather than nought.

        Source: own rule.

        >>> KeptShare(3, 4).share, KeptShare(0, 0).share
        (0.75, None)
        """
        return self.kept / self.judged if self.judged else None


@dataclass(frozen=True)
class LeadEvidence:
    """Days to plan with, and what they rest on.

    quoted_workdays: what is quoted. confidence: the share of orders meant to come within the plan, 0.5 to 0.995.
    exact_workdays: the figure before rounding. used: the receipts of this material it rests on, oldest first.
    prior: what those were shrunk towards. others: receipts of the supplier's other materials behind it, oldest first.
    kept: how the plans of this material have held so far, over its last 50 receipts.
    """

    quoted_workdays: int
    confidence: float
    exact_workdays: float
    used: tuple[LeadReceipt, ...]
    prior: LeadPrior
    others: tuple[LeadReceipt, ...]
    kept: KeptShare

    @property
    def plan_workdays(self) -> int:
        """Whole days to plan with, a begun day counting whole; never fewer than one."""
        return max(1, math.ceil(self.exact_workdays - _ROUNDING))

    @property
    def ratios(self) -> tuple[float, ...]:
        """Actual over quoted of the receipts used, oldest first."""
        return tuple(receipt.ratio for receipt in self.used)

    @property
    def sentence(self) -> str:
        """Say it for the office.

        Returns:
            One sentence: what is quoted, what the last receipts took, and the days to plan with.

        Source: own wording.

        >>> receipts = [LeadReceipt(30, days, date(2027, 1, days - 20), "MILL", "BASE") for days in (30, 33, 39)]
        >>> planned_lead(30, receipts, supplier="MILL", material="BASE").sentence
        'quoted 30 days; the last 3 took 1.00, 1.10 and 1.30 of the quote; nine in ten should be here within 45 working
         days'
        """
        quoted = f"quoted {self.quoted_workdays} day{'' if self.quoted_workdays == 1 else 's'}"
        days = f"{self.plan_workdays} working day{'' if self.plan_workdays == 1 else 's'}"
        return f"{quoted}; {self._seen()}; {confidence_words(self.confidence)} should be here within {days}"

    def _seen(self) -> str:
        if self.used:
            last = "one" if len(self.used) == 1 else str(len(self.used))
            return f"the last {last} took {_listed(self.used)} of the quote{_still_open(self.used)}"
        nothing = "nothing of it has come yet"
        if self.others:
            last = "order" if len(self.others) == 1 else f"{len(self.others)} orders"
            took = f"took {_listed(self.others)} of their quotes{_still_open(self.others)}"
            return f"{nothing}; the supplier's last {last} of other materials {took}"
        over = f"{math.exp(self.prior.m0):.2f} of the quote on average"
        if self.prior.based_on:
            return f"{nothing}; all the firm's {self.prior.based_on} receipts took {over}"
        return f"{nothing}; until something does, {over} is assumed"


def planned_lead(
    quoted_workdays: int,
    receipts: Iterable[LeadReceipt],
    *,
    supplier: str,
    material: str,
    confidence: float = 0.90,
    prior: LeadPrior | None = None,
) -> LeadEvidence:
    """Work out the days to plan with for a material from its supplier.

    Args:
        quoted_workdays: the supplier's working days quoted now, from order to arrival, 1 to 990.
        receipts: the firm's record, of all suppliers and materials, in any order. An open order counts at its age
            once that is over its quote, and, being a lower bound, never makes the plan shorter.
        supplier: the supplier's code.
        material: the material's code.
        confidence: the share of orders meant to come within the plan, 0.5 to 0.995.
        prior: the starting assumption, None for the usual one. From 30 receipts on the firm's own mean and spread
            stand in for it.

    Returns:
        The days and the evidence for them.

    Raises:
        LeadRecordError: quoted days or a confidence out of range.

    Source: see the head of this module; the last 8 receipts count, of the material and of the supplier's others.

    >>> round(planned_lead(30, [], supplier="MILL", material="BASE").exact_workdays, 1)
    48.6
    """
    _check_quoted(quoted_workdays)
    _check_confidence(confidence)
    record = sorted((receipt for receipt in receipts if receipt.counts), key=_place)
    learnt = _learn(record, supplier, material, confidence, prior or LeadPrior())
    return LeadEvidence(
        quoted_workdays,
        confidence,
        quoted_workdays * math.exp(learnt.reach),
        learnt.used,
        learnt.prior,
        learnt.others,
        _kept(record, supplier, material, confidence, prior or LeadPrior()),
    )


def kept_so_far(
    receipts: Iterable[LeadReceipt], *, confidence: float = 0.90, prior: LeadPrior | None = None, last: int = JUDGED
) -> KeptShare:
    """Count how often the plans would have held over the whole record, each made from what was known by then.

    Args:
        receipts: the firm's record, in any order.
        confidence: the confidence of those plans, 0.5 to 0.995.
        prior: the starting assumption, None for the usual one.
        last: how many of the newest receipts are judged, 1 or more.

    Returns:
        How many of those came within their plan.

    Raises:
        LeadRecordError: a confidence out of range.

    Source: own rule: shown beside the confidence aimed at, since an assumption may be too hopeful.

    >>> kept_so_far([LeadReceipt(30, 60, date(2027, 1, 4), "MILL", "BASE")])
    KeptShare(kept=0, judged=1)
    """
    _check_confidence(confidence)
    record = sorted((receipt for receipt in receipts if receipt.counts), key=_place)
    judged = [receipt for receipt in record if not receipt.is_open][-last:]
    held = sum(_held(receipt, record, confidence, prior or LeadPrior()) for receipt in judged)
    return KeptShare(held, len(judged))


def firm_prior(receipts: Iterable[LeadReceipt], starting: LeadPrior | None = None) -> LeadPrior:
    """Draw the prior from the firm's own record once it is long enough.

    Args:
        receipts: the firm's record; open orders are left out.
        starting: what holds until then, None for the usual assumption.

    Returns:
        From 30 receipts on a prior of the same weights with their mean, that predicts with their spread; before that
        the starting one.

    Source: own rule.

    >>> day = date(2027, 1, 4)
    >>> firm_prior([LeadReceipt(10, 11, day, "MILL", "BASE")] * 30).based_on
    30
    """
    starting = starting or LeadPrior()
    logs = [math.log(receipt.ratio) for receipt in receipts if not receipt.is_open]
    if len(logs) < ENOUGH_FOR_THE_FIRM:
        return starting
    mean = math.fsum(logs) / len(logs)
    variance = math.fsum((log - mean) ** 2 for log in logs) / (len(logs) - 1)
    # A material never bought before is predicted with v0 * (1 + 1/k0): that is to be the spread of the whole record,
    # which holds how materials and suppliers differ as well as how orders of one of them do.
    return replace(starting, m0=mean, v0=variance / (1 + 1 / starting.k0), based_on=len(logs))


def chance_within_greatest(count: int) -> float:
    """Find the chance that the next order takes no longer than the longest so far.

    Args:
        count: receipts so far, 1 or more, each as likely as any other to be the longest.

    Returns:
        The chance, count / (count + 1).

    Raises:
        LeadRecordError: a count under 1.

    Source: by symmetry, the next is the longest of all with chance 1 / (count + 1).

    >>> chance_within_greatest(3)
    0.75
    """
    _check_whole(count, "Receipts so far", 1, 1_000_000)
    return count / (count + 1)


def confidence_from_cost(late_day: Decimal, early_day: Decimal) -> float:
    """Find the confidence at which a day planned too many costs as much as a day too few.

    Args:
        late_day: what a day too late costs, money, 0 or more.
        early_day: what a day too early costs (storage, money laid out), money, 0 or more, not both 0.

    Returns:
        late / (late + early), kept within 0.5 to 0.995.

    Raises:
        LeadRecordError: an amount that is negative or not finite, or both 0.

    Source: the critical ratio of the newsvendor problem.

    >>> confidence_from_cost(Decimal(180), Decimal(20))
    0.9
    """
    for amount, what in ((late_day, "late"), (early_day, "early")):
        if not amount.is_finite() or amount < 0:
            raise LeadRecordError(f"What a day too {what} costs must be zero or more, not {amount}.")
    if not late_day + early_day:
        raise LeadRecordError("Say what a day too late or too early costs: both are zero.")
    return min(max(float(late_day / (late_day + early_day)), MIN_CONFIDENCE), MAX_CONFIDENCE)


def confidence_words(confidence: float) -> str:
    """Say a share of orders in words.

    Args:
        confidence: 0.5 to 0.995.

    Returns:
        Such as ``nine in ten`` or ``95 in a hundred``.

    Source: own wording.

    >>> confidence_words(0.90), confidence_words(0.95)
    ('nine in ten', '95 in a hundred')
    """
    tenths = confidence * 10
    if abs(tenths - round(tenths)) < _ROUNDING:
        return f"{_NUMBERS[round(tenths)]} in ten"
    return f"{confidence * 100:.4g} in a hundred"


@dataclass(frozen=True)
class _Learnt:
    """Mean and variance after some receipts, how far the confidence reaches, and those receipts."""

    mean: float
    variance: float
    reach: float
    used: tuple[LeadReceipt, ...]
    prior: LeadPrior
    others: tuple[LeadReceipt, ...] = ()


def _learn(
    record: Sequence[LeadReceipt], supplier: str, material: str, confidence: float, starting: LeadPrior
) -> _Learnt:
    """record: what counts, oldest first."""
    of_supplier = [receipt for receipt in record if receipt.supplier == supplier]
    above = _longest(
        firm_prior(record, starting), [receipt for receipt in of_supplier if receipt.material != material], confidence
    )
    prior = replace(above.prior, m0=above.mean, v0=above.variance)
    own = _longest(prior, [receipt for receipt in of_supplier if receipt.material == material], confidence)
    return replace(own, others=above.used)


def _longest(prior: LeadPrior, receipts: Sequence[LeadReceipt], confidence: float) -> _Learnt:
    """What is learnt with as many of the open orders, the most overdue first, as make the plan longest."""
    came = [receipt for receipt in receipts if not receipt.is_open]
    overdue = sorted((receipt for receipt in receipts if receipt.is_open), key=lambda receipt: -receipt.ratio)[:WINDOW]
    mixes = (sorted([*came, *overdue[:some]], key=_place) for some in range(len(overdue) + 1))
    tries = (_shrunk(prior, mix, confidence) for mix in mixes)
    return max(tries, key=lambda learnt: learnt.reach)


def _shrunk(prior: LeadPrior, receipts: Sequence[LeadReceipt], confidence: float) -> _Learnt:
    used = tuple(receipts[-WINDOW:])
    logs, n, k0 = [math.log(receipt.ratio) for receipt in used], len(used), prior.k0
    mean = math.fsum(logs) / n if n else prior.m0
    squares = math.fsum((log - mean) ** 2 for log in logs)
    middle = (k0 * prior.m0 + n * mean) / (k0 + n)
    apart = k0 * n / (k0 + n) * (mean - prior.m0) ** 2
    variance = (prior.nu0 * prior.v0 + squares + apart) / (prior.nu0 + n)
    distance = student_t_quantile(confidence, prior.nu0 + n)
    reach = middle + distance * math.sqrt(variance * (1 + 1 / (k0 + n)))
    return _Learnt(middle, variance, reach, used, prior)


def _kept(
    record: Sequence[LeadReceipt], supplier: str, material: str, confidence: float, starting: LeadPrior
) -> KeptShare:
    came = [
        receipt
        for receipt in record
        if (receipt.supplier, receipt.material) == (supplier, material) and not receipt.is_open
    ]
    came = came[-JUDGED:]
    return KeptShare(sum(_held(receipt, record, confidence, starting) for receipt in came), len(came))


def _held(receipt: LeadReceipt, record: Sequence[LeadReceipt], confidence: float, starting: LeadPrior) -> bool:
    known = [entry for entry in record if not entry.is_open and entry.received_on < receipt.known_before]
    learnt = _learn(known, receipt.supplier, receipt.material, confidence, starting)
    return receipt.actual_workdays <= math.ceil(receipt.quoted_workdays * math.exp(learnt.reach) - _ROUNDING)


def _place(receipt: LeadReceipt) -> tuple[date, bool]:
    return receipt.received_on, receipt.is_open


def _listed(receipts: Sequence[LeadReceipt]) -> str:
    sentences = [f"{receipt.ratio:.2f}" for receipt in receipts]
    return sentences[0] if len(sentences) == 1 else f"{', '.join(sentences[:-1])} and {sentences[-1]}"


def _still_open(receipts: Sequence[LeadReceipt]) -> str:
    count = sum(receipt.is_open for receipt in receipts)
    if not count:
        return ""
    if count == len(receipts):
        return ", still open" if count == 1 else ", all still open"
    return f", {_NUMBERS[count]} of them still open"


def _check_quoted(quoted_workdays: int) -> None:
    _check_whole(quoted_workdays, "Quoted working days", 1, MAX_QUOTED_WORKDAYS)


def _check_whole(days: int, what: str, least: int, most: int) -> None:
    if isinstance(days, bool) or not isinstance(days, int) or not least <= days <= most:
        raise LeadRecordError(f"{what} must be a whole number from {least} to {most:,}, not {days!r}.")


def _check_confidence(confidence: float) -> None:
    if not MIN_CONFIDENCE <= confidence <= MAX_CONFIDENCE:
        raise LeadRecordError(
            f"The confidence must be from {MIN_CONFIDENCE} to {MAX_CONFIDENCE}, not {confidence}: 0.90 means that "
            "nine orders in ten come within the plan."
        )
