"""What the firm's own record teaches: one standard, drawn toward what its closed jobs really took."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, localcontext

LAST = 8
"""So many of the newest closed jobs are used."""
FEWEST = 3
"""With fewer jobs nothing is suggested."""
WEIGHT_OF_STANDARD = 2
"""k of n / (n + k): the standard counts as so many jobs, as the quoted days do for lead times."""
MIN_RATIO, MAX_RATIO = Decimal("0.5"), Decimal(2)
PLACES = Decimal("0.0001")
DIGITS = 34


@dataclass(frozen=True)
class ClosedJob:
    """A closed job beside what today's standard gives for it.

    by_standard: on the agreed quantity, over 0. actual: in the same unit. why_left_out: a person's reason, or what is
    missing; empty where it may teach.
    """

    job: str
    closed_on: date
    by_standard: Decimal
    actual: Decimal
    why_left_out: str = ""

    @property
    def ratio(self) -> Decimal:
        """Actual over standard."""
        return self.actual / self.by_standard


@dataclass(frozen=True)
class Lesson:
    """What the record says of one standard.

    was: the standard in force. value: suggested, to four places. typical: the geometric mean of the jobs, unshrunk.
    used: oldest first. left_out: each with its reason. error_was, error: summed absolute errors of the standard, and
    of the suggestion each job of which is foretold from the others. why_not: why nothing is offered, else empty.
    """

    was: Decimal
    value: Decimal
    typical: Decimal
    used: tuple[ClosedJob, ...]
    left_out: tuple[tuple[ClosedJob, str], ...]
    error_was: Decimal
    error: Decimal
    why_not: str

    @property
    def n(self) -> int:
        return len(self.used)

    @property
    def is_offered(self) -> bool:
        return not self.why_not


def shrunk_factor(ratios: Sequence[Decimal]) -> Decimal:
    """The factor that a standard is changed by.

    Args:
        ratios: actual over standard of each job, each over 0; none is no change.

    Returns:
        exp(n / (n + 2) x mean of ln ratio): between 1 and the geometric mean; the order of the ratios moves nothing.

    Source: credibility n / (n + k) of the mean of logarithms; k = 2 is the firm's own choice, as for lead times.

    >>> round(shrunk_factor([Decimal("1.2")] * 2), 6) == round(Decimal("1.2").sqrt(), 6)
    True
    """
    if not ratios:
        return Decimal(1)
    with localcontext() as context:
        context.prec = DIGITS
        return (_sum_of_logs(ratios) / (len(ratios) + WEIGHT_OF_STANDARD)).exp()


def lesson(was: Decimal, jobs: Iterable[ClosedJob]) -> Lesson:
    """What closed jobs teach about one standard.

    Args:
        was: the standard in force, over 0. jobs: those with a record, in any order.

    Returns:
        The suggestion with the jobs it rests on and its back-test. It is offered only from three jobs on, and if it
        foretells each from the others with a summed absolute error at least a tenth smaller than the standard's.

    Source: the firm's own rule.
    """
    used, left_out = _chosen(jobs)
    ratios = [job.ratio for job in used]
    value = (was * shrunk_factor(ratios)).quantize(PLACES)
    error_was = sum((abs(job.actual - job.by_standard) for job in used), Decimal(0))
    error = sum((_error_from_others(place, used) for place in range(len(used))), Decimal(0))
    typical = (was * _geometric_mean(ratios)).quantize(PLACES)
    return Lesson(was, value, typical, used, left_out, error_was, error, _why_not(len(used), error_was, error))


def _chosen(jobs: Iterable[ClosedJob]) -> tuple[tuple[ClosedJob, ...], tuple[tuple[ClosedJob, str], ...]]:
    newest_first = sorted(jobs, key=lambda job: (job.closed_on, job.job), reverse=True)
    used: list[ClosedJob] = []
    left_out = []
    for entry in newest_first:
        if why := entry.why_left_out or _out_of_bounds(entry):
            left_out.append((entry, why))
        elif len(used) < LAST:
            used.append(entry)
    return tuple(reversed(used)), tuple(left_out)


def _out_of_bounds(job: ClosedJob) -> str:
    if job.ratio > MAX_RATIO:
        return "more than twice the standard"
    return "less than half the standard" if job.ratio < MIN_RATIO else ""


def _error_from_others(place: int, used: Sequence[ClosedJob]) -> Decimal:
    job = used[place]
    others = [other.ratio for at, other in enumerate(used) if at != place]
    return abs(job.actual - job.by_standard * shrunk_factor(others))


def _why_not(n: int, error_was: Decimal, error: Decimal) -> str:
    if n < FEWEST:
        return f"{n} of {FEWEST} jobs"
    return "" if error * 10 <= error_was * 9 and error < error_was else "the jobs do not foretell each other better"


def _geometric_mean(ratios: Sequence[Decimal]) -> Decimal:
    if not ratios:
        return Decimal(1)
    with localcontext() as context:
        context.prec = DIGITS
        return (_sum_of_logs(ratios) / len(ratios)).exp()


def _sum_of_logs(ratios: Sequence[Decimal]) -> Decimal:
    """Summed from the smallest, so that no order of the jobs moves a digit."""
    return sum((ratio.ln() for ratio in sorted(ratios)), Decimal(0))
