"""Patterns of pieces on one stick, generated as a linear programme asks for them, and the bound that comes with them.

All lengths are whole grains (see `jobs.core.cutting.cutting`) with the kerf counted in: piece + kerf, stick + kerf.
A pattern is how many of each size are cut from one stick. Weights are prices, or lengths while a price is missing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from jobs.core.cutting.integer_program import INFINITY, Allowance, IntegerProgram

Counts = tuple[int, ...]

_WORTH_STEPS = 1 << 60
_UNCUT = 1e3
_NEAR = 1e-9


@dataclass(frozen=True)
class StickCase:
    """What is to be cut from what.

    sizes: of the pieces, whole, > 0, different, longest first. demand: of each size, >= 0. rooms: of the sticks,
    whole, > 0. weights: of one stick each, >= 0. limits: at most so many of each stick, None for as many as wanted.
    """

    sizes: Counts
    demand: Counts
    rooms: Counts
    weights: tuple[Fraction, ...]
    limits: tuple[int | None, ...]

    def still_wanting(self, demand: Counts, limits: tuple[int | None, ...]) -> StickCase:
        """The same case with some of it done.

        >>> StickCase((30,), (4,), (100,), (Fraction(1),), (None,)).still_wanting((1,), (None,)).demand
        (1,)
        """
        return StickCase(self.sizes, demand, self.rooms, self.weights, limits)

    def lightest_holding(self, pattern: Counts, limits: Sequence[int | None]) -> int | None:
        """The lightest stick still to be had that holds a pattern, None when there is none.

        >>> StickCase((30,), (4,), (100, 60), (Fraction(3), Fraction(2)), (None, 0)).lightest_holding((2,), (None, 0))
        0
        """
        need = sum(size * count for size, count in zip(self.sizes, pattern, strict=True))
        holding = [
            (self.weights[at], room, at) for at, room in enumerate(self.rooms) if room >= need and limits[at] != 0
        ]
        return min(holding)[2] if holding else None


@dataclass(frozen=True)
class Pattern:
    """Pieces of each size cut from one stick: index of the stick, count per size."""

    stick: int
    counts: Counts


def best_patterns(case: StickCase, worth: Sequence[int]) -> list[tuple[int, Counts]]:
    """For every stick the pattern worth most, exactly.

    Args:
        case: sizes, at most how many of each are wanted, and rooms.
        worth: of one piece of each size, whole, >= 0, small enough that all pieces together stay below 2**62.

    Returns:
        (worth, counts) per stick; no size more often than it is wanted.

    Source: dynamic programming over the lists of room used and worth that no other beats, Nemhauser and Ullmann,
    *Discrete dynamic programming and capital allocation* (1969); counts split in powers of two.

    >>> case = StickCase((60, 35), (1, 9), (100,), (Fraction(1),), (None,))
    >>> best_patterns(case, (8, 5))
    [(13, (1, 1))]
    """
    import numpy as np

    most_room = max(case.rooms)
    used, value = np.zeros(1, dtype=np.int64), np.zeros(1, dtype=np.int64)
    stages = []
    for index, (size, wanted, each) in enumerate(zip(case.sizes, case.demand, worth, strict=True)):
        left = min(wanted, most_room // size) if each > 0 else 0
        part = 1
        while left:
            take = min(part, left)
            left, part = left - take, part * 2
            fits = int(np.searchsorted(used, most_room - take * size, side="right"))
            joined = np.concatenate((used, used[:fits] + take * size))
            worths = np.concatenate((value, value[:fits] + take * each))
            order = np.argsort(joined, kind="stable")
            worths = worths[order]
            before = np.concatenate((np.array([-1]), np.maximum.accumulate(worths)[:-1]))
            remaining = worths > before
            stages.append((index, take, len(used), order[remaining]))
            used, value = joined[order][remaining], worths[remaining]
    patterns = []
    for room in case.rooms:
        at = int(np.searchsorted(used, room, side="right")) - 1
        best, counts = int(value[at]), [0] * len(case.sizes)
        for index, take, old, parents in reversed(stages):
            at = int(parents[at])
            if at >= old:
                counts[index] += take
                at -= old
        patterns.append((best, tuple(counts)))
    return patterns


def farley_bound(case: StickCase, worth: Sequence[int], most_worth: Sequence[int]) -> Fraction:
    """What no plan of a case can weigh less than, from any worth of the pieces.

    Args:
        case: what is to be cut.
        worth: of one piece of each size, whole, >= 0.
        most_worth: of any pattern on each stick, from exact pricing of the same worth.

    Returns:
        The bound, >= 0 and exact: the worth is scaled so that no pattern on a stick without a limit is worth more
        than the stick weighs, and what patterns on limited sticks are worth above their weight is taken off.

    Source: Farley, *A note on bounding a class of linear programming problems, including cutting stock problems*
    (1990); limited sticks by weak duality.

    >>> case = StickCase((60,), (3,), (100,), (Fraction(2),), (None,))
    >>> farley_bound(case, (5,), (5,))
    Fraction(6, 1)
    """
    allowed = [
        weight / most
        for weight, most, limit in zip(case.weights, most_worth, case.limits, strict=True)
        if limit is None and most > 0
    ]
    total = sum(each * wanted for each, wanted in zip(worth, case.demand, strict=True))
    limited = [
        (weight, most, limit)
        for weight, most, limit in zip(case.weights, most_worth, case.limits, strict=True)
        if limit is not None and most > 0
    ]
    # In the scale of the worth the bound is concave and bends only where a limited stick begins to pay.
    scales = {weight / most for weight, most, _ in limited}
    if allowed:
        scales = {min(allowed), *(scale for scale in scales if scale < min(allowed))}
    return max(
        scale * total - sum((limit * max(Fraction(0), scale * most - weight) for weight, most, limit in limited))
        for scale in (Fraction(0), *scales)
    )


def patterns_within(case: StickCase, worth: Sequence[float], least: Sequence[float], most: int) -> list[Pattern] | None:
    """Every pattern that is worth at least so much.

    Args:
        case: sizes, at most how many of each are wanted, and rooms.
        worth: of one piece of each size, >= 0.
        least: per stick, what a pattern on it must be worth to be listed.
        most: look at no more than so many part patterns, > 0.

    Returns:
        The patterns, or None when there would be more to look at than allowed.

    Source: enumeration by branch and bound with the fractional bound of Dantzig, *Discrete-variable extremum
    problems* (1957).

    >>> case = StickCase((60, 35), (1, 9), (100,), (Fraction(1),), (None,))
    >>> [pattern.counts for pattern in patterns_within(case, (0.6, 0.35), (0.7,), 100)]
    [(1, 1), (0, 2)]
    """
    order = sorted(range(len(case.sizes)), key=lambda at: -worth[at] / case.sizes[at])
    density = [worth[at] / case.sizes[at] for at in order] + [0.0]
    patterns: list[Pattern] = []
    looked = 0
    for stick, room in enumerate(case.rooms):
        if case.limits[stick] == 0:
            continue
        # Part patterns still to be carried on: next size in order, room left, worth, counts so far.
        waiting: list[tuple[int, int, float, Counts]] = [(0, room, 0.0, ())]
        while waiting:
            looked += 1
            if looked > most:
                return None
            at, left, value, counts = waiting.pop()
            if value + density[at] * left < least[stick]:
                continue
            if at == len(order):
                placed = [0] * len(order)
                for index, count in zip(order, counts, strict=True):
                    placed[index] = count
                patterns.append(Pattern(stick, tuple(placed)))
                continue
            size, each = case.sizes[order[at]], worth[order[at]]
            for count in range(min(case.demand[order[at]], left // size) + 1):
                waiting.append((at + 1, left - count * size, value + count * each, (*counts, count)))
    return patterns


def common_measure(weights: Sequence[Fraction]) -> Fraction:
    """The greatest weight of which all these are whole multiples, 0 when all are zero.

    >>> common_measure([Fraction(3, 2), Fraction(5, 2), Fraction(0)])
    Fraction(1, 2)
    """
    positive = [weight for weight in weights if weight > 0]
    if not positive:
        return Fraction(0)
    below = math.lcm(*(weight.denominator for weight in positive))
    return Fraction(math.gcd(*(int(weight * below) for weight in positive)), below)


def rounded_up(bound: Fraction, weights: Sequence[Fraction]) -> Fraction:
    """A bound raised to the next sum that weights of these sizes can make: a whole multiple of their common measure.

    >>> rounded_up(Fraction(51, 7), [Fraction(3, 2), Fraction(5, 2)])
    Fraction(15, 2)
    """
    measure = common_measure(weights)
    return measure * math.ceil(bound / measure) if measure else bound


@dataclass
class Columns:
    """The patterns known so far of one case, the programme over them, and the bounds found on the way.

    linear: the greatest Farley bound. bound: the same raised to a sum the weights can make. least_sticks: no plan
    has fewer sticks.
    """

    case: StickCase
    known: dict[Pattern, int] = field(default_factory=dict)
    linear: Fraction = Fraction(0)
    bound: Fraction = Fraction(0)
    least_sticks: int = 0

    def __post_init__(self) -> None:
        self.unit = float(max(self.case.weights)) or 1.0
        self.programme = IntegerProgram()
        self.rows = [self.programme.add_row(wanted, INFINITY) for wanted in self.case.demand]
        self.limit_rows = {
            at: self.programme.add_row(-INFINITY, limit)
            for at, limit in enumerate(self.case.limits)
            if limit is not None
        }
        # A piece may stay uncut at a price no plan would pay: so there is always an answer to start from.
        self.missing = [self.programme.add_column(_UNCUT, [(row, 1.0)]) for row in self.rows]

    def add(self, pattern: Pattern) -> bool:
        """Make a pattern known; whether it was new."""
        if pattern in self.known or not any(pattern.counts):
            return False
        entries = [(row, float(n)) for row, n in zip(self.rows, pattern.counts, strict=True) if n]
        if pattern.stick in self.limit_rows:
            entries.append((self.limit_rows[pattern.stick], 1.0))
        weight = float(self.case.weights[pattern.stick]) / self.unit
        self.known[pattern] = self.programme.add_column(weight, entries)
        return True

    def want(self, demand: Counts, limits: Sequence[int | None]) -> None:
        """Change what is wanted and what there is, for the next solving."""
        for row, wanted in zip(self.rows, demand, strict=True):
            self.programme.limit_row(row, wanted, INFINITY)
        for at, row in self.limit_rows.items():
            limit = limits[at]
            self.programme.limit_row(row, -INFINITY, INFINITY if limit is None else limit)

    def generate(self, case: StickCase, allowance: Allowance, rounds: int = 2000) -> tuple[float, ...] | None:
        """Add patterns until none is missing; the use of every known pattern in the linear answer, in order.

        case: as this one's, or with less wanted; the bound is raised only by the whole case.
        None when time ran out before the first answer.
        """
        if case.demand != self.case.demand or case.limits != self.case.limits:
            self.want(case.demand, case.limits)
        whole = case.demand == self.case.demand and case.limits == self.case.limits
        values: tuple[float, ...] | None = None
        for _ in range(rounds):
            if allowance.left_s <= 0:
                return values
            before = self.programme.seconds
            answer = self.programme.solve(limit_s=allowance.left_s)
            allowance.take(self.programme.seconds - before)
            if answer.status != "optimal":
                return values
            values = tuple(answer.values[column] for column in self.known.values())
            if not self._price(case, answer.duals, whole=whole):
                return values
        return values

    def improving(self, best: Fraction, most: int) -> list[Pattern] | None:
        """Every pattern that a plan lighter than the best may use, by reduced cost; None when they are too many."""
        self.want(self.case.demand, self.case.limits)
        answer = self.programme.solve()
        if answer.status != "optimal":
            return None
        gap = float(best - common_measure(self.case.weights)) / self.unit - answer.value + 1e-6
        limited = [-answer.duals[self.limit_rows[at]] if at in self.limit_rows else 0.0 for at in self._sticks]
        least = [float(self.case.weights[at]) / self.unit + limited[at] - gap for at in self._sticks]
        return patterns_within(self.case, [max(0.0, answer.duals[row]) for row in self.rows], least, most)

    @property
    def _sticks(self) -> range:
        return range(len(self.case.rooms))

    def _price(self, case: StickCase, duals: Sequence[float], *, whole: bool) -> bool:
        """Add the best pattern of every stick that is worth more than it weighs; whether there was one."""
        steps = _WORTH_STEPS // max(1, sum(case.demand))
        worth = [max(0, math.floor(duals[row] * steps / _UNCUT)) for row in self.rows]
        best = best_patterns(case, worth)
        if whole:
            most = [value for value, _ in best]
            self.linear = max(self.linear, farley_bound(case, worth, most))
            self.bound = rounded_up(self.linear, case.weights)
            total = sum(each * wanted for each, wanted in zip(worth, case.demand, strict=True))
            if max(most) > 0:
                self.least_sticks = max(self.least_sticks, -(-total // max(most)))
        added = False
        for at, (value, counts) in enumerate(best):
            weight = float(case.weights[at]) / self.unit
            limited = -duals[self.limit_rows[at]] if at in self.limit_rows else 0.0
            if case.limits[at] != 0 and value * _UNCUT / steps > (weight + limited) + _NEAR:
                added |= self.add(Pattern(at, counts))
        return added
