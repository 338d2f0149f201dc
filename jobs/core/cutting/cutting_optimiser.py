"""Stick plans proven near the optimum: column generation, a dive, an integer programme, and an exact bound.

First-fit (`jobs.core.cutting.cutting.plan_cuts`) answers at once and is the control here: a plan made here never
costs more. The search takes a time limit; where it is not reached the same input gives the same plan.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

from catalog.core.ground.units import format_inches
from jobs.core.cutting.cutting import (
    SEARCHED,
    Basis,
    Cut,
    CutBound,
    CutPiece,
    CutPlan,
    CuttingError,
    Stick,
    SticksRunOutError,
    Stock,
    grains_of_piece,
    grains_of_stick,
    merit,
    mm_of_grains,
    plan_cuts,
)
from jobs.core.cutting.cutting_patterns import Columns, Counts, Pattern, StickCase
from jobs.core.cutting.integer_program import INFINITY, Allowance, Answer, IntegerProgram, PlanProgress, Stopwatch, Tell

FEW_PIECES = 100
"""Up to so many pieces an arc-flow programme is tried when a gap remains (measured: beyond it seldom ends)."""

MAX_LOOKED_AT = 300_000
"""Part patterns looked at in search of all that could be better: about a second."""

MAX_PATTERNS = 20_000
"""An integer programme over more patterns than this seldom ends in its time."""

MAX_ARCS = 40_000
"""An arc-flow programme of more arcs than this is not worth starting."""

MAX_SECONDS_EACH = 10.0
"""No one integer programme is given longer: what is not found by then seldom is."""

FARLEY = "linear programme with exact pricing (Farley)"


@dataclass(frozen=True)
class _Found:
    patterns: tuple[Pattern, ...]
    weight: Fraction
    method: str


def plan_sticks(
    pieces: Sequence[CutPiece],
    stocks: Sequence[Stock],
    *,
    kerf_mm: float = 0.0,
    usable_offcut_mm: float = 0.0,
    limit_s: float = 20.0,
    stopwatch: Stopwatch | None = None,
    tell: Tell | None = None,
    show: Callable[[float], str] = format_inches,
) -> CutPlan:
    """Plan uncut pieces as cheaply as can be found in the time, with a bound no plan can beat.

    Args:
        pieces: what is needed, at least one; no piece is spliced.
        stocks: what it can be cut from, at least one, codes different; what is on hand has price 0 and a count.
        kerf_mm: lost at every cut, mm, >= 0; the last piece of a stick needs none when it ends the stick.
        usable_offcut_mm: leftovers at least so long are listed as worth keeping, mm, >= 0.
        limit_s: seconds at most, >= 0; at 0 the first-fit plan is returned.
        stopwatch: reads seconds; without one only the solver's own seconds are counted.
        tell: called now and then with how far the plan has come.
        show: writes a length (mm) for the working.

    Returns:
        A plan that never costs more than `plan_cuts`. Its bound is the greater of that of `plan_cuts` and Farley's;
        `working` says whether the plan is proven cheapest, and otherwise the gap between cost and bound.

    Raises:
        CuttingError: as `plan_cuts`; `limit_s` below zero or not a number.

    Source: Gilmore and Gomory, *A linear programming approach to the cutting-stock problem* (1961) and part II
    (1963); bound: Farley (1990); arc-flow: Valerio de Carvalho, *Exact solution of bin-packing problems using column
    generation and branch-and-bound* (1999).

    >>> sticks = [Stock("S28", 2800.0, Decimal("5.00")), Stock("S40", 4000.0, Decimal("6.50"))]
    >>> plan = plan_sticks([CutPiece("rail", 1400.0, 4), CutPiece("post", 1330.0, 3)], sticks)
    >>> plan.cost, plan.bound.cost, plan.working[0]
    (Decimal('16.50'), Decimal('16.50'), 'Proven: no plan can cost less than 16.50.')
    """
    if not (math.isfinite(limit_s) and limit_s >= 0):
        raise CuttingError(
            "limit_s", f"the time limit must be a number of seconds, zero or more; {limit_s:g} was given"
        )
    first, refused = _first_fit(pieces, stocks, kerf_mm, usable_offcut_mm)
    case = case_of(pieces, stocks, kerf_mm)
    search = _Search(case, Allowance(limit_s, stopwatch), tell, 1.0 if _priced(stocks) else mm_of_grains(1))
    if first is not None:
        search.begin_with(_patterns_of(first, case, stocks, kerf_mm), first.method)
    search.run()
    if search.best is None:
        assert refused is not None
        raise refused
    bound = _bound_of(search, first, priced=_priced(stocks))
    made = _plan_of(search.best, pieces, stocks, kerf_mm, usable_offcut_mm, bound)
    chosen = made if first is None else replace(min(first, made, key=merit), bound=bound)
    return replace(chosen, working=(_proof_words(chosen, exhausted=search.exhausted, show=show),))


def case_of(pieces: Sequence[CutPiece], stocks: Sequence[Stock], kerf_mm: float) -> StickCase:
    """The whole-number case of pieces and sticks; both are taken as already found fit.

    >>> case_of([CutPiece("a", 1.0, 2)], [Stock("S", 3.0)], 0.5).rooms
    (280,)
    """
    kerf = grains_of_piece(kerf_mm)
    wanted: dict[int, int] = {}
    for piece in pieces:
        size = grains_of_piece(piece.length_mm) + kerf
        wanted[size] = wanted.get(size, 0) + piece.count
    sizes = sorted(wanted, reverse=True)
    rooms = tuple(grains_of_stick(stock.length_mm) + kerf for stock in stocks)
    weights = tuple(
        Fraction(stock.price) if _priced(stocks) and stock.price is not None else Fraction(room - kerf)
        for stock, room in zip(stocks, rooms, strict=True)
    )
    return StickCase(
        tuple(sizes), tuple(wanted[size] for size in sizes), rooms, weights, tuple(stock.count for stock in stocks)
    )


def _priced(stocks: Sequence[Stock]) -> bool:
    return all(stock.price is not None for stock in stocks)


def _first_fit(
    pieces: Sequence[CutPiece], stocks: Sequence[Stock], kerf_mm: float, usable_mm: float
) -> tuple[CutPlan | None, SticksRunOutError | None]:
    """The control. Where it runs out of counted sticks a better plan may not: that refusal is kept for later."""
    try:
        return plan_cuts(pieces, stocks, kerf_mm=kerf_mm, usable_offcut_mm=usable_mm), None
    except SticksRunOutError as refused:
        return None, refused


# --- the search --------------------------------------------------------------------------------------------


class _Search:
    """The best set of patterns found so far, and the ways to find a better one."""

    def __init__(self, case: StickCase, allowance: Allowance, tell: Tell | None, scale: float) -> None:
        self.case = case
        self.allowance = allowance
        self.tell = tell
        self.scale = scale
        self.columns = Columns(case)
        self.best: _Found | None = None
        self.exhausted = False

    @property
    def proven(self) -> bool:
        return self.best is not None and self.best.weight <= self.columns.bound

    @property
    def over(self) -> bool:
        return self.proven or self.allowance.left_s <= 0

    def begin_with(self, patterns: Sequence[Pattern], method: str) -> None:
        self.offer(patterns, method)
        for pattern in patterns:
            self.columns.add(pattern)

    def offer(self, patterns: Iterable[Pattern], method: str) -> None:
        """Keep a set of patterns that covers all that is wanted, when it is lighter than the best."""
        cheapened = _cheapened(self.case, patterns)
        if cheapened is None:
            return
        weight = sum((self.case.weights[pattern.stick] for pattern in cheapened), Fraction(0))
        if self.best is None or weight < self.best.weight:
            self.best = _Found(tuple(cheapened), weight, method)
            self.say(method)

    def say(self, doing: str) -> None:
        if self.tell is not None:
            weight = None if self.best is None else float(self.best.weight) * self.scale
            self.tell(PlanProgress(doing, weight, float(self.columns.bound) * self.scale))

    def run(self) -> None:
        if self.over:
            return
        self.say("column generation")
        uses = self.columns.generate(self.case, self.allowance)
        # Each dive takes another road where the linear answer leaves a choice.
        for skip in range(4):
            if uses is None or self.over:
                return
            self.say("dive")
            self.dive(skip)
        if not self.over:
            self.integer_programme()
        if not self.over:
            self.all_improving()
        if not self.over and not self.exhausted and sum(self.case.demand) <= FEW_PIECES:
            self.arc_flow()

    def dive(self, skip: int) -> None:
        """Fix the patterns the linear answer uses most, ask again for what is left, until nothing is."""
        demand, limits = list(self.case.demand), list(self.case.limits)
        taken: list[Pattern] = []
        while any(demand):
            rest = self.case.still_wanting(tuple(demand), tuple(limits))
            uses = self.columns.generate(rest, self.allowance, rounds=40)
            fixed = [] if uses is None else _fixed(rest, list(self.columns.known), uses, skip)
            if not fixed:
                return
            for pattern in fixed:
                taken.append(pattern)
                for at, count in enumerate(pattern.counts):
                    demand[at] = max(0, demand[at] - count)
                limit = limits[pattern.stick]
                limits[pattern.stick] = None if limit is None else limit - 1
            skip = max(0, skip - 1)
        self.offer(taken, "column generation and a dive")

    def integer_programme(self) -> None:
        """The cheapest whole use of the patterns known."""
        self.say("integer programme over patterns")
        for pattern in self.best.patterns if self.best is not None else ():
            self.columns.add(pattern)
        self.use_best(list(self.columns.known), "column generation and an integer programme over its patterns")

    def all_improving(self) -> None:
        """The cheapest whole use of every pattern a lighter plan may use, when there are not too many."""
        if self.best is None:
            return
        self.say("integer programme over all patterns that could be better")
        patterns = self.columns.improving(self.best.weight, MAX_LOOKED_AT)
        if patterns is not None and len(patterns) <= MAX_PATTERNS:
            answer = self.use_best(patterns, "column generation and an integer programme over all patterns near it")
            self.exhausted = answer.status in ("optimal", "infeasible")

    def use_best(self, patterns: list[Pattern], method: str) -> Answer:
        programme = IntegerProgram()
        rows = [programme.add_row(wanted, INFINITY) for wanted in self.case.demand]
        limits = {at: programme.add_row(-INFINITY, n) for at, n in enumerate(self.case.limits) if n is not None}
        for pattern in patterns:
            entries = [(row, float(n)) for row, n in zip(rows, pattern.counts, strict=True) if n]
            if pattern.stick in limits:
                entries.append((limits[pattern.stick], 1.0))
            weight = float(self.case.weights[pattern.stick]) / self.columns.unit
            programme.add_column(weight, entries, integer=True)
        used = Counter(self.best.patterns if self.best is not None else ())
        known = sum(used.values()) == sum(used[pattern] for pattern in set(patterns))
        start = {at: float(used[pattern]) for at, pattern in enumerate(patterns)} if used and known else None
        answer = self.solved(programme, start)
        self.offer((p for p, n in zip(patterns, answer.values, strict=False) for _ in range(round(n))), method)
        return answer

    def arc_flow(self) -> None:
        """The cheapest plan at all, when the flow of pieces along the sticks is small enough to search."""
        flow = _ArcFlow.of(self.case, self.columns.unit)
        if flow is None:
            return
        self.say("arc-flow")
        answer = self.solved(flow.programme, None)
        if answer.values:
            self.offer(flow.patterns(answer.values), "arc-flow")
        self.exhausted = answer.status == "optimal"

    def solved(self, programme: IntegerProgram, start: Mapping[int, float] | None) -> Answer:
        def watch(weight: float, bound: float) -> None:
            self.say("searching")

        good_enough = float(self.columns.bound) / self.columns.unit * (1 + 1e-12)
        answer = programme.solve(
            limit_s=min(self.allowance.left_s, MAX_SECONDS_EACH),
            start=start,
            good_enough=good_enough,
            watch=None if self.tell is None else watch,
        )
        self.allowance.take(programme.seconds)
        return answer


def _fixed(rest: StickCase, patterns: Sequence[Pattern], uses: Sequence[float], skip: int) -> list[Pattern]:
    """Patterns to fix now: all whole uses that still serve, else the one used most (or the next, by `skip`)."""
    fixed: list[Pattern] = []
    demand, limits = list(rest.demand), list(rest.limits)

    def serves(pattern: Pattern) -> bool:
        cut = [min(count, left) for count, left in zip(pattern.counts, demand, strict=True)]
        return tuple(cut) == pattern.counts and limits[pattern.stick] != 0

    def fix(pattern: Pattern) -> None:
        fixed.append(pattern)
        for at, count in enumerate(pattern.counts):
            demand[at] = max(0, demand[at] - count)
        limit = limits[pattern.stick]
        limits[pattern.stick] = None if limit is None else limit - 1

    for pattern, use in zip(patterns, uses, strict=False):
        for _ in range(math.floor(use + 1e-6)):
            if serves(pattern):
                fix(pattern)
    if fixed:
        return fixed
    open_ = [
        (use - math.floor(use + 1e-6), -at, pattern)
        for at, (pattern, use) in enumerate(zip(patterns, uses, strict=False))
        if use > 1e-6 and limits[pattern.stick] != 0
    ]
    ordered = sorted(open_, key=lambda node: node[:2], reverse=True)
    return [ordered[min(skip, len(ordered) - 1)][2]] if ordered else []


def _cheapened(case: StickCase, patterns: Iterable[Pattern]) -> list[Pattern] | None:
    """The patterns without pieces nobody wants, each on the lightest stick that holds it; None when they fall short."""
    demand, limits = list(case.demand), list(case.limits)
    undominated: list[Counts] = []
    for pattern in sorted(patterns, key=lambda entry: (entry.stick, entry.counts), reverse=True):
        counts = tuple(min(count, left) for count, left in zip(pattern.counts, demand, strict=True))
        if any(counts):
            undominated.append(counts)
            demand = [left - count for left, count in zip(demand, counts, strict=True)]
    if any(demand):
        return None
    priced = []
    # The longest first, so that long sticks with a limit go to what needs them.
    for counts in sorted(undominated, key=lambda c: -sum(s * n for s, n in zip(case.sizes, c, strict=True))):
        stick = case.lightest_holding(counts, limits)
        if stick is None:
            return None
        priced.append(Pattern(stick, counts))
        limit = limits[stick]
        limits[stick] = None if limit is None else limit - 1
    return priced


# --- arc-flow ----------------------------------------------------------------------------------------------


@dataclass
class _ArcFlow:
    """Pieces laid end to end as a flow along places on a stick; every plan is such a flow.

    arcs: (from place, to place, index of the size), column by column; -1 for what is left over. After them the
    programme has one column per stick, which closes the flow. sizes: how many there are.
    """

    programme: IntegerProgram
    arcs: list[tuple[int, int, int]]
    sizes: int

    @classmethod
    def of(cls, case: StickCase, unit: float) -> _ArcFlow | None:
        """The programme of a case, None when it would be too large."""
        laid = _laid_arcs(case)
        if laid is None:
            return None
        places = sorted({0, *case.rooms, *(end for _, end, _ in laid)})
        laid = laid + [(here, there, -1) for here, there in pairwise(places)]
        programme = IntegerProgram()
        node = {place: programme.add_row(0.0, 0.0) for place in places}
        served = [programme.add_row(wanted, INFINITY) for wanted in case.demand]
        for start, end, size in laid:
            entries = [(node[start], -1.0), (node[end], 1.0)]
            most = INFINITY
            if size >= 0:
                entries.append((served[size], 1.0))
                most = float(case.demand[size])
            programme.add_column(0.0, entries, upper=most, integer=True)
        for weight, room, limit in zip(case.weights, case.rooms, case.limits, strict=True):
            programme.add_column(
                float(weight) / unit,
                [(node[room], -1.0), (node[0], 1.0)],
                upper=INFINITY if limit is None else float(limit),
                integer=True,
            )
        return cls(programme, laid, len(case.sizes))

    def patterns(self, answer: Sequence[float]) -> list[Pattern]:
        """The flow taken apart into patterns: one path along a stick after another."""
        flow = {at: round(n) for at, n in enumerate(answer) if round(n)}
        leaving: dict[int, list[int]] = {}
        for at, (start, _, _) in enumerate(self.arcs):
            if flow.get(at):
                leaving.setdefault(start, []).append(at)
        columns = []
        while (pattern := self._path(flow, leaving)) is not None:
            columns.append(pattern)
        return columns

    def _path(self, flow: dict[int, int], leaving: dict[int, list[int]]) -> Pattern | None:
        place, counts = 0, [0] * self.sizes
        while True:
            arc = next((at for at in leaving.get(place, []) if flow.get(at)), None)
            if arc is None:
                break
            flow[arc] -= 1
            place = self.arcs[arc][1]
            if self.arcs[arc][2] >= 0:
                counts[self.arcs[arc][2]] += 1
        return Pattern(0, tuple(counts)) if place else None


def _laid_arcs(case: StickCase) -> list[tuple[int, int, int]] | None:
    """Arcs of pieces from places that longer pieces can reach, longest first; None when there are too many."""
    most, reached = max(case.rooms), {0}
    arcs: list[tuple[int, int, int]] = []
    for index, (size, wanted) in enumerate(zip(case.sizes, case.demand, strict=True)):
        ends: set[tuple[int, int]] = set()
        front = set(reached)
        for _ in range(wanted):
            step = {(place, place + size) for place in front if place + size <= most} - ends
            if not step:
                break
            ends |= step
            front = {end for _, end in step}
            if len(arcs) + len(ends) > MAX_ARCS:
                return None
        arcs += [(start, end, index) for start, end in sorted(ends)]
        reached |= {end for _, end in ends}
    return arcs


# --- the finished plan -------------------------------------------------------------------------------------


def _patterns_of(plan: CutPlan, case: StickCase, stocks: Sequence[Stock], kerf_mm: float) -> list[Pattern]:
    kerf, codes = grains_of_piece(kerf_mm), [stock.code for stock in stocks]
    index = {size: at for at, size in enumerate(case.sizes)}
    columns = []
    for stick in plan.sticks:
        counts = [0] * len(case.sizes)
        for cut in stick.cuts:
            counts[index[grains_of_piece(cut.length_mm) + kerf]] += 1
        columns.append(Pattern(codes.index(stick.stock_code), tuple(counts)))
    return columns


def _plan_of(
    solution: _Found,
    pieces: Sequence[CutPiece],
    stocks: Sequence[Stock],
    kerf_mm: float,
    usable_mm: float,
    bound: CutBound,
) -> CutPlan:
    kerf = grains_of_piece(kerf_mm)
    labels: dict[int, list[str]] = {}
    for piece in reversed(pieces):
        labels.setdefault(grains_of_piece(piece.length_mm) + kerf, []).extend([piece.label] * piece.count)
    sizes = sorted(labels, reverse=True)
    sticks = []
    for pattern in solution.patterns:
        cuts, at = [], 0
        for size, count in zip(sizes, pattern.counts, strict=True):
            for _ in range(count):
                cuts.append(Cut(labels[size].pop(), mm_of_grains(at), mm_of_grains(size - kerf)))
                at += size
        stock = stocks[pattern.stick]
        room = grains_of_stick(stock.length_mm)
        sticks.append(Stick(stock.code, mm_of_grains(room), stock.price, tuple(cuts), mm_of_grains(max(0, room - at))))
    basis: Basis = "price" if _priced(stocks) else "length"
    return CutPlan(tuple(sticks), kerf_mm, usable_mm, basis, solution.method, bound)


def _bound_of(search: _Search, first: CutPlan | None, *, priced: bool) -> CutBound:
    """The greater of Farley's bound and the one that came with the first-fit plan."""
    farley, sticks = search.columns.bound, search.columns.least_sticks
    if first is not None:
        sticks = max(sticks, first.bound.sticks)
    if not priced:
        return CutBound(sticks, None, FARLEY, mm_of_grains(math.ceil(farley)))
    cost = _money_down(farley)
    if first is not None and first.bound.cost is not None and first.bound.cost > cost:
        return replace(first.bound, sticks=sticks)
    return CutBound(sticks, cost, FARLEY)


def _money_down(amount: Fraction) -> Decimal:
    """An amount in whole cents, or finer where the prices are, rounded down."""
    fine = Decimal(amount.numerator * 1_000_000 // amount.denominator).scaleb(-6)
    cents = fine.quantize(Decimal("0.01"), rounding="ROUND_FLOOR")
    return cents if cents == fine else fine.normalize()


def _proof_words(plan: CutPlan, *, exhausted: bool, show: Callable[[float], str]) -> str:
    """Whether the plan is proven, in words, with the gap to its bound where it is not."""
    if plan.basis == "price":
        assert plan.cost is not None and plan.bound.cost is not None
        has, least, verb = float(plan.cost), float(plan.bound.cost), "cost"
        has_words, least_words = f"{plan.cost}", f"{plan.bound.cost}"
    else:
        has, least, verb = sum(stick.length_mm for stick in plan.sticks), plan.bound.length_mm or 0.0, "buy"
        has_words, least_words = show(has), show(least)
    if has <= least:
        return f"Proven: no plan can {verb} less than {least_words}."
    if exhausted:
        return f"Proven: a {SEARCHED}."
    more = f" ({100 * (has - least) / least:.2f} % more)" if least > 0 else ""
    return f"No plan can {verb} less than {least_words}; this one {verb}s {has_words}{more}."
