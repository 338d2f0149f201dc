"""The integer programme of one face with its courses given: joints on studs, and sheets cut in strips.

Joints: per run of board a flow from its one end to the other over the places a joint may stand; two joints that must
keep their distance exclude each other. Supply: a sheet is ripped into strips over its whole extent, a strip is
cross-cut into slots, and a board comes from any slot at least as wide and as high as itself; so off-cuts are used
inside the programme. Patterns of slots in a strip, and of strips in a sheet, are added as the linear programme asks
for them, with exact pricing; so its value is a bound over all patterns.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from heapq import heappop, heappush
from itertools import pairwise

from catalog.core.ground.units import TOLERANCE_MM
from jobs.core.boards.board_search import Arc, BoardSearch, Chosen, Run
from jobs.core.cutting.cutting_patterns import Counts, Pattern, StickCase, best_patterns, patterns_within
from jobs.core.cutting.integer_program import INFINITY, Allowance, Answer, IntegerProgram
from jobs.core.cutting.sheet_cutting import Blank, Corner, CutSheet, SheetKind

STEPS_PER_MM = 100_000
"""Sizes are whole hundred-thousandths of a millimetre here: finer than any two of them differ by intent."""

ROUNDING_MM = 1e-6
MAX_HEIGHTS = 14
MAX_WIDTHS = 160
"""More different heights of board than the first, as under a raked ceiling, or more different widths than the second,
as of several faces, are gathered into so many. Measured on both faces of a 15 ft wall with 303 widths: the linear
programme is solved in 10 s; without it was not in 16 s; the bound is up to 0.5 % lower."""

_WORTH_STEPS = 1 << 44
_NEAR = 1e-7
_CONVERGED = 1e-6
_OF_BEST = 0.5
"""How far towards the values of the best bound patterns are priced."""

_MAX_LOOKED_AT = 100_000
_WHOLE = 1e-5

Node = tuple[int, int]
"""A place where a joint may stand: number of its run, index of the place in it."""


def steps_of_board(size_mm: float) -> int:
    """A board's size (mm) in whole steps, rounded up but for rounding of sums.

    >>> steps_of_board(1219.2)
    121920000
    """
    return math.ceil((size_mm - ROUNDING_MM) * STEPS_PER_MM)


def steps_of_sheet(size_mm: float) -> int:
    """A sheet's size (mm) in whole steps, rounded down but for rounding of sums.

    >>> steps_of_sheet(1219.2)
    121920000
    """
    return math.floor((size_mm + ROUNDING_MM) * STEPS_PER_MM)


@dataclass(frozen=True)
class Levels:
    """The heights boards are taken to have, in steps, lowest first.

    up: heights between two levels are taken up to the next, so that a plan stays possible; otherwise down, so that
    a bound stays one. exact: no height lies between two levels, so that both are the same.
    """

    heights: Counts
    up: bool
    exact: bool

    @classmethod
    def of(cls, heights: Iterable[int], *, up: bool, most: int = MAX_HEIGHTS) -> Levels:
        """Levels for these heights, or widths (steps): all of them when there are at most so many.

        >>> Levels.of([3, 5, 3], up=True)
        Levels(heights=(3, 5), up=True, exact=True)
        """
        distinct = sorted(set(heights))
        if len(distinct) <= most:
            return cls(tuple(distinct), up, True)
        last = most - 1
        picked = {distinct[round(n * (len(distinct) - 1) / last)] for n in range(most)}
        return cls(tuple(sorted(picked)), up, False)

    def level(self, height: int) -> int:
        """Index of the level a height is taken for.

        >>> Levels((3, 9), False, False).level(5)
        0
        """
        if self.up:
            return next(at for at, level in enumerate(self.heights) if level >= height)
        return max(at for at, level in enumerate(self.heights) if level <= height)


@dataclass(frozen=True)
class _Sheets:
    """One group's sheets in steps: per kind its extent across and up, and its weight in units of the programme."""

    kinds: tuple[SheetKind, ...]
    across: Counts
    up: Counts
    weights: tuple[float, ...]


@dataclass(frozen=True)
class StripPattern:
    """Slots of one strip: group of sheets, index of the sheet's kind, level of its height, count per width."""

    group: int
    kind: int
    level: int
    counts: Counts


@dataclass(frozen=True)
class SheetPattern:
    """Strips of one sheet: group of sheets, index of the kind, count per level of height."""

    group: int
    kind: int
    counts: Counts


@dataclass
class _Group:
    """What one group of sheets must yield: the widths (steps) wanted, levels, and the programme's rows for both."""

    sheets: _Sheets
    levels: Levels
    widths: Counts
    at_width: Mapping[int, int]
    exact: bool
    slot_rows: dict[tuple[int, int], int] = field(default_factory=dict)
    strip_rows: dict[tuple[int, int], int] = field(default_factory=dict)
    total_rows: dict[int, int] = field(default_factory=dict)

    def widths_case(self) -> StickCase:
        wanted = tuple(max(self.sheets.across) // width for width in self.widths)
        return StickCase(self.widths, wanted, self.sheets.across, _nothing(self.sheets), _unlimited(self.sheets))

    def heights_case(self) -> StickCase:
        heights = tuple(reversed(self.levels.heights))
        wanted = tuple(max(self.sheets.up) // height for height in heights)
        return StickCase(heights, wanted, self.sheets.up, _nothing(self.sheets), _unlimited(self.sheets))


def _nothing(sheets: _Sheets) -> tuple[Fraction, ...]:
    return (Fraction(0),) * len(sheets.kinds)


def _unlimited(sheets: _Sheets) -> tuple[None, ...]:
    return (None,) * len(sheets.kinds)


@dataclass(frozen=True)
class _Limits:
    """Limits of one branch: on sheets of a kind, by row, and on joints, 1 when they must be there and 0 when not."""

    totals: Mapping[int, tuple[float, float]]
    joints: Mapping[Node, float]


class FaceModel:
    """The programme of one face; weights are in units of the heaviest sheet, `unit`.

    search: its runs, places and rules. up: see `Levels`. keep_rules: no joint may break a rule; otherwise at most
    `faults` of them may, weighed as in the search.

    Source: two-stage cutting and column generation, Gilmore and Gomory, *Multistage cutting stock problems of two and
    more dimensions* (1965); joints as a flow along each course are OURS.

    >>> from jobs.core.boards.board_layout import line_of_layer, surface_of
    >>> from jobs.core.boards.board_search import HungLayer, Rules
    >>> from jobs.core.measure.curve import _example, curve_of
    >>> surface = surface_of(line_of_layer(curve_of(_example()), "right", 0.0, 6.35))
    >>> studs = tuple(surface.line.curve.centre_length_mm * n / 24 for n in range(25))
    >>> layer = HungLayer(surface, (0.0, 1219.2, 2438.4, 2743.2), 0, studs)
    >>> kinds = ((SheetKind("4x8", 2438.4, 1219.2, 1.0),),)
    >>> model = FaceModel(BoardSearch([layer], kinds, Rules(254.0, 152.4)), up=True, faults=0)
    >>> round(model.linear(Allowance(20.0)) or 0.0, 3)
    4.5
    """

    def __init__(self, search: BoardSearch, *, up: bool, faults: int, supply: bool = True) -> None:
        self.search = search
        self.keep_rules = faults == 0
        heaviest = max((kind.weight for kinds in search.groups for kind in kinds), default=0.0)
        self.unit = heaviest or 1.0
        self.programme = IntegerProgram()
        self.joints: dict[Node, int] = {}
        self.boards: list[tuple[int, int, Arc, int]] = []
        self.strips: dict[StripPattern, int] = {}
        self.patterns: dict[SheetPattern, int] = {}
        self.converged = False
        self.duals: Sequence[float] = ()
        self.root: Answer | None = None
        self._fault_entries: list[tuple[int, float]] = []
        self._ends_and_starts: dict[Node, tuple[int, int]] = {}
        self._lay_joints()
        self.groups = self._lay_groups(up) if supply else []
        self.exact = all(group.exact for group in self.groups)
        self._lay_boards(supply)
        self._keep_apart()
        if supply:
            self._first_patterns()
        self.fault_row = -1
        if not self.keep_rules:
            self.fault_row = self.programme.add_row(-INFINITY, faults, self._fault_entries)
        self._widths_cases = [group.widths_case() for group in self.groups]
        self._heights_cases = [group.heights_case() for group in self.groups]

    # --- joints and boards ---

    def _lay_joints(self) -> None:
        """Per place that may be a joint a column and two rows: boards that end there, boards that start there."""
        for run in self.search.runs:
            last = len(run.places) - 1
            for index, place in enumerate(run.places):
                node = (run.number, index)
                if not run.closed and index in (0, last):
                    # An end of the run: exactly one board starts, or ends, there.
                    row = self.programme.add_row(1.0, 1.0)
                    self._ends_and_starts[node] = (row, row)
                    continue
                if self.keep_rules and place.fault:
                    continue
                ends, starts = self.programme.add_row(0.0, 0.0), self.programme.add_row(0.0, 0.0)
                column = self.programme.add_column(0.0, [(ends, -1.0), (starts, -1.0)], upper=1.0, integer=False)
                self.joints[node] = column
                self._ends_and_starts[node] = (ends, starts)
                if place.fault:
                    self._fault_entries.append((column, float(place.fault)))

    def _usable(self, run: Run) -> Iterable[tuple[int, int, Arc]]:
        """(from index, to index, board) of every board that may hang there."""
        count = len(run.places)
        for here, arcs in enumerate(run.arcs):
            for arc in arcs:
                there = (here + arc.steps) % count if run.closed else here + arc.steps
                if self.keep_rules and arc.fault:
                    continue
                if (run.number, here) in self._ends_and_starts and (run.number, there) in self._ends_and_starts:
                    yield here, there, arc

    def _lay_groups(self, up: bool) -> list[_Group]:
        heights: dict[int, set[int]] = defaultdict(set)
        widths: dict[int, set[int]] = defaultdict(set)
        for run in self.search.runs:
            for _, _, arc in self._usable(run):
                if arc.head_mm - arc.foot_mm > TOLERANCE_MM:
                    heights[run.group].add(steps_of_board(arc.head_mm - arc.foot_mm))
                    widths[run.group].add(steps_of_board(arc.width_mm))
        groups = []
        for number, kinds in enumerate(self.search.groups):
            across = tuple(steps_of_sheet(kind.across_mm) for kind in kinds)
            tall = tuple(steps_of_sheet(kind.up_mm) for kind in kinds)
            weights = tuple(kind.weight / self.unit for kind in kinds)
            levels, widest = Levels.of(heights[number], up=up), Levels.of(widths[number], up=up, most=MAX_WIDTHS)
            last = len(widest.heights) - 1
            at_width = {width: last - widest.level(width) for width in widths[number]}
            exact = levels.exact and widest.exact
            group = _Group(
                _Sheets(kinds, across, tall, weights), levels, tuple(reversed(widest.heights)), at_width, exact
            )
            for level in range(len(levels.heights)):
                for width in range(len(group.widths)):
                    group.slot_rows[level, width] = self.programme.add_row(0.0, INFINITY)
                for kind in range(len(kinds)):
                    if levels.heights[level] <= tall[kind]:
                        group.strip_rows[level, kind] = self.programme.add_row(0.0, INFINITY)
            group.total_rows = {kind: self.programme.add_row(0.0, INFINITY) for kind in range(len(kinds))}
            groups.append(group)
            self._let_down(group)
        return groups

    def _let_down(self, group: _Group) -> None:
        """A slot may serve as the next narrower of its level, or as the next lower of its width."""
        for (level, width), row in group.slot_rows.items():
            for below in ((level, width + 1), (level - 1, width)):
                if below in group.slot_rows:
                    self.programme.add_column(0.0, [(row, -1.0), (group.slot_rows[below], 1.0)])

    def _lay_boards(self, supply: bool) -> None:
        for run in self.search.runs:
            round_row = -1
            if run.closed:
                round_row = self.programme.add_row(len(run.places), len(run.places))
            for here, there, arc in self._usable(run):
                entries = [
                    (self._ends_and_starts[run.number, here][1], 1.0),
                    (self._ends_and_starts[run.number, there][0], 1.0),
                ]
                height = arc.head_mm - arc.foot_mm
                if supply and height > TOLERANCE_MM:
                    group = self.groups[run.group]
                    level = group.levels.level(steps_of_board(height))
                    slot = group.slot_rows[level, group.at_width[steps_of_board(arc.width_mm)]]
                    entries.append((slot, -1.0))
                if run.closed:
                    entries.append((round_row, float(arc.steps)))
                merged: dict[int, float] = defaultdict(float)
                for row, value in entries:
                    merged[row] += value
                column = self.programme.add_column(0.0, list(merged.items()), upper=1.0)
                self.boards.append((run.number, here, arc, column))
                if arc.fault:
                    self._fault_entries.append((column, float(arc.fault)))

    def _keep_apart(self) -> None:
        near = self._near()
        if not self.keep_rules:
            for here_node, others in near.items():
                for other in others:
                    if here_node < other:
                        both = self.programme.add_column(0.0, [], upper=1.0)
                        self.programme.add_row(
                            -INFINITY, 1.0, [(self.joints[here_node], 1.0), (self.joints[other], 1.0), (both, -1.0)]
                        )
                        self._fault_entries.append((both, 1.0))
            return
        for run in self.search.runs:
            for here, arcs in enumerate(run.arcs):
                for arc in arcs:
                    here_node, other = (run.number, here), (run.number, (here + arc.steps) % len(run.places))
                    # Joints of one run that no board may join directly exclude each other as well.
                    if arc.fault and here_node != other and here_node in self.joints and other in self.joints:
                        near[here_node].add(other)
                        near[other].add(here_node)
        for clique in _cliques(near, self._order()):
            self.programme.add_row(-INFINITY, 1.0, [(self.joints[node], 1.0) for node in clique])

    def _near(self) -> dict[Node, set[Node]]:
        """Joints of different runs that must not both be."""
        neighbours: dict[Node, set[Node]] = {node: set() for node in self.joints}
        for run in self.search.runs:
            for number in self.search.beside[run.number]:
                if number < run.number:
                    continue
                beside = self.search.runs[number]
                for index, place in enumerate(beside.places):
                    other = (number, index)
                    if other not in self.joints:
                        continue
                    for at in self.search.within(run, beside, place):
                        if (run.number, at) in self.joints:
                            neighbours[run.number, at].add(other)
                            neighbours[other].add((run.number, at))
        return neighbours

    def _order(self) -> dict[Node, float]:
        return {(r, p): self.search.runs[r].places[p].along_mm for r, p in self.joints}

    # --- patterns ---

    def _first_patterns(self) -> None:
        """One slot of every width in every strip, one strip of every height in every sheet, as often as fits."""
        for number, group in enumerate(self.groups):
            for level, kind in group.strip_rows:
                for width, size in enumerate(group.widths):
                    fits = group.sheets.across[kind] // size
                    if fits:
                        self.add_strip(StripPattern(number, kind, level, _only(width, fits, len(group.widths))))
                fits = group.sheets.up[kind] // group.levels.heights[level]
                self.add_sheet(SheetPattern(number, kind, _only(level, fits, len(group.levels.heights))))

    def add_strip(self, pattern: StripPattern) -> bool:
        """Make a pattern of slots known; whether it was new."""
        if pattern in self.strips or not any(pattern.counts):
            return False
        group = self.groups[pattern.group]
        entries = [(group.slot_rows[pattern.level, w], float(n)) for w, n in enumerate(pattern.counts) if n]
        entries.append((group.strip_rows[pattern.level, pattern.kind], -1.0))
        self.strips[pattern] = self.programme.add_column(0.0, entries)
        return True

    def add_sheet(self, pattern: SheetPattern) -> bool:
        """Make a pattern of strips known; whether it was new."""
        if pattern in self.patterns or not any(pattern.counts):
            return False
        group = self.groups[pattern.group]
        entries = [(group.strip_rows[level, pattern.kind], float(n)) for level, n in enumerate(pattern.counts) if n]
        entries.append((group.total_rows[pattern.kind], 1.0))
        self.patterns[pattern] = self.programme.add_column(group.sheets.weights[pattern.kind], entries)
        return True

    def linear(self, allowance: Allowance) -> float:
        """Solve the linear programme over all patterns, as far as time allows: a bound in units.

        `converged` then tells whether it is the programme's value. Otherwise it is the best bound on the way there
        (Farley), 0 when there was none; infinite when no answer is possible. Patterns are priced at values between
        the last answer's and those of the best bound, which takes fewer rounds. A millionth is taken off for what the
        solver's tolerances may hide.

        Source: bound: Farley (1990); values in between: Wentges, *Weighted Dantzig-Wolfe decomposition for linear
        mixed-integer programming* (1997).
        """
        was_solved, self.converged = self.root is not None, False
        best: tuple[float, Sequence[float], float] | None = None
        bound = 0.0
        for turn in range(1000):
            # Measured on a 60 ft wall: 2.7 s so, 5.2 s with the primal and 9.3 s with the dual simplex throughout.
            if turn == 0:
                self.programme.prefer("dual simplex" if was_solved else "interior point")
            elif turn >= 3 or was_solved:
                self.programme.prefer("primal simplex")
            before = self.programme.seconds
            answer = self.programme.solve(limit_s=allowance.left_s)
            allowance.take(self.programme.seconds - before)
            if answer.status == "infeasible":
                return INFINITY
            if answer.status != "optimal":
                break
            self.root = answer
            # Where values in between bring nothing new, the last answer's own are taken.
            for share in (_OF_BEST, 0.0) if best is not None else (0.0,):
                duals, value = _between(best, share, answer)
                added, most, worths = self._price(duals)
                if value / most > bound:
                    bound, best = value / most, (value, worths, most)
                    self.duals = [worth / most for worth in worths]
                if added or answer.value - bound <= _CONVERGED:
                    break
            if answer.value - bound <= _CONVERGED or not added:
                self.converged = True
                break
            if allowance.left_s <= 0:
                break
        self.programme.prefer("any")
        return max(0.0, bound - _CONVERGED)

    def board_weights(self) -> dict[tuple[int, int, int], float]:
        """What a board is worth in the last linear answer, by (run, place it starts at, places passed)."""
        duals = self.root.duals if self.root is not None else ()
        rows = {}
        for run, here, arc, _ in self.boards:
            group, height = self.groups[self.search.runs[run].group], arc.head_mm - arc.foot_mm
            if duals and height > TOLERANCE_MM:
                width = group.at_width[steps_of_board(arc.width_mm)]
                row = group.slot_rows[group.levels.level(steps_of_board(height)), width]
                rows[run, here, arc.steps] = duals[row] * self.unit
        return rows

    def branch(
        self,
        linear: float,
        at_most: Callable[[], float],
        allowance: Allowance,
        tell: Callable[[float], None],
        offer: Callable[[tuple[float, ...]], None],
    ) -> float:
        """A better bound than the linear one: numbers of sheets must be whole, and a joint is there or it is not.

        Args:
            linear: of this programme, units.
            at_most: what a plan worth finding may weigh, units; asked again at every step.
            allowance: of time. tell: is told of every rise of the bound, units.
            offer: is given every answer with whole joints, for a plan to be made of it.

        Returns:
            The bound, units, good whenever time runs out: at least `linear`, and infinite when no plan worth finding
            is left. Patterns may still be used in part, so a plan of that weight need not exist.

        Source: branch and price, Barnhart and others, *Branch-and-price: column generation for solving huge integer
        programs* (1998), on totals first; patterns are not branched on.
        """
        totals = [row for group in self.groups for row in group.total_rows.values()]
        waiting: list[tuple[float, int, _Limits]] = [(linear, 0, _Limits({}, {}))]
        leaf, best = INFINITY, linear
        turn = 0
        while waiting and min(waiting[0][0], leaf) < at_most() + _CONVERGED:
            if waiting[0][0] >= leaf:
                break
            known, _, limits = waiting[0]
            if known > best + _CONVERGED:
                best = known
                tell(best)
            self._limit(totals, limits)
            bound = self.linear(allowance)
            if not self.converged and bound != INFINITY:
                break
            heappop(waiting)
            bound = max(bound, known)
            if bound > at_most() + _CONVERGED:
                continue
            parts = self._parts(limits)
            if parts is None:
                leaf = min(leaf, bound)
                if self.root is not None:
                    offer(self.root.values)
                continue
            for part in parts:
                turn += 1
                heappush(waiting, (bound, -turn, part))
        self._limit(totals, _Limits({}, {}))
        return max(linear, min([leaf, *(entry[0] for entry in waiting)]))

    def _limit(self, totals: Sequence[int], limits: _Limits) -> None:
        for row in totals:
            self.programme.limit_row(row, *limits.totals.get(row, (0.0, INFINITY)))
        for node, column in self.joints.items():
            fixed = limits.joints.get(node)
            self.programme.limit_column(column, fixed or 0.0, 1.0 if fixed is None else fixed)

    def _parts(self, limits: _Limits) -> tuple[_Limits, _Limits] | None:
        """The last linear answer's limits parted in two, neither of which allows it; None when it is whole."""
        used = self._totals()
        row, total = max(used.items(), key=lambda entry: abs(entry[1] - round(entry[1])))
        if abs(total - round(total)) > _WHOLE:
            low, high = limits.totals.get(row, (0.0, INFINITY))
            return (
                _Limits({**limits.totals, row: (low, math.floor(total))}, limits.joints),
                _Limits({**limits.totals, row: (math.ceil(total), high)}, limits.joints),
            )
        values = self.root.values if self.root is not None else ()
        open_ = [(abs(values[column] - 0.5), node) for node, column in self.joints.items()]
        least, node = min(open_, default=(0.5, (0, 0)))
        if least > 0.5 - _WHOLE:
            return None
        return (
            _Limits(limits.totals, {**limits.joints, node: 0.0}),
            _Limits(limits.totals, {**limits.joints, node: 1.0}),
        )

    def _totals(self) -> dict[int, float]:
        """Sheets used in the last linear answer, per row that counts a kind."""
        used: dict[int, float] = {row: 0.0 for group in self.groups for row in group.total_rows.values()}
        values = self.root.values if self.root is not None else ()
        for pattern, column in self.patterns.items():
            if column < len(values):
                used[self.groups[pattern.group].total_rows[pattern.kind]] += values[column]
        return used

    def _price(self, duals: Sequence[float]) -> tuple[bool, float, Sequence[float]]:
        """Add the patterns that are worth more than they weigh.

        Returns whether there were any new ones; how many times its weight the best sheet is worth, at least 1; and the
        values with every strip at what its best pattern is worth. Divided by that number, those values make no pattern
        worth more than it weighs, so what the last answer is worth at them bounds every answer.
        """
        added, most = False, 1.0
        worths = list(duals)
        for number, group in enumerate(self.groups):
            for level in range(len(group.levels.heights)):
                for kind, (value, counts) in enumerate(self._price_strips(number, level, duals)):
                    row = group.strip_rows.get((level, kind))
                    if row is not None and value > duals[row]:
                        worths[row] = value
                        if value > duals[row] + _NEAR:
                            added |= self.add_strip(StripPattern(number, kind, level, counts))
            for kind, weight in enumerate(group.sheets.weights):
                # Strips of another kind of sheet are another thing: each kind has its own worth of strips.
                rows = [group.strip_rows.get((level, kind)) for level in reversed(range(len(group.levels.heights)))]
                worth = [0.0 if row is None else max(0.0, worths[row]) for row in rows]
                value, counts = _best_pattern(self._heights_cases[number], worth)[kind]
                over = value + duals[group.total_rows[kind]]
                if over > weight + _NEAR:
                    added |= self.add_sheet(SheetPattern(number, kind, tuple(reversed(counts))))
                    most = max(most, over / weight) if weight > 0 else INFINITY
        return added, most, worths

    def _price_strips(self, number: int, level: int, duals: Sequence[float]) -> list[tuple[float, Counts]]:
        """Per kind of sheet the worth of the best pattern of slots in a strip of a level, and the pattern."""
        group = self.groups[number]
        worth = [max(0.0, duals[group.slot_rows[level, width]]) for width in range(len(group.widths))]
        return _best_pattern(self._widths_cases[number], worth)

    def add_improving(self, gap: float) -> bool:
        """Add every pattern a plan within a gap (units) of the linear bound may use; False when they are too many."""
        duals = self.duals
        if not self.converged:
            return False
        strips: list[StripPattern] = []
        sheets: list[SheetPattern] = []
        for number, group in enumerate(self.groups):
            kinds = range(len(group.sheets.kinds))
            sizes = len(group.levels.heights)
            for level in range(sizes):
                least = [
                    duals[group.strip_rows[level, k]] - gap if (level, k) in group.strip_rows else 1e9 for k in kinds
                ]
                worth = [max(0.0, duals[group.slot_rows[level, w]]) for w in range(len(group.widths))]
                patterns = patterns_within(self._widths_cases[number], worth, least, _MAX_LOOKED_AT)
                if patterns is None:
                    return False
                fullest = _fullest(patterns, group.widths, group.sheets.across)
                strips += [StripPattern(number, pattern.stick, level, pattern.counts) for pattern in fullest]
            for kind in kinds:
                rows = [group.strip_rows.get((level, kind)) for level in reversed(range(sizes))]
                worth = [0.0 if row is None else max(0.0, duals[row]) for row in rows]
                alone = group.sheets.weights[kind] - duals[group.total_rows[kind]]
                least = [alone - gap if k == kind else 1e9 for k in kinds]
                patterns = patterns_within(self._heights_cases[number], worth, least, _MAX_LOOKED_AT)
                if patterns is None:
                    return False
                fullest = _fullest(patterns, self._heights_cases[number].sizes, group.sheets.up)
                sheets += [SheetPattern(number, kind, tuple(reversed(pattern.counts))) for pattern in fullest]
        for strip in strips:
            self.add_strip(strip)
        for sheet in sheets:
            self.add_sheet(sheet)
        return True

    # --- whole answers ---

    def fewest_faults(self, limit_s: float) -> Answer:
        """The joints that break the fewest rules, weighed as in the search; for a model without supply."""
        for column, weight in self._fault_entries:
            self.programme.set_cost(column, weight)
        self.programme.make_integer(list(self.joints.values()))
        return self.programme.solve(limit_s=limit_s)

    def whole(
        self,
        limit_s: float,
        *,
        at_most: float,
        gap: float,
        watch: Callable[[float, float], None] | None = None,
    ) -> Answer:
        """The lightest whole answer over the patterns known, of at most so many units; stops at a relative gap."""
        weights = [
            (column, self.groups[pattern.group].sheets.weights[pattern.kind])
            for pattern, column in self.patterns.items()
        ]
        self.programme.add_row(-INFINITY, at_most, weights)
        self.programme.make_integer([*self.joints.values(), *self.strips.values(), *self.patterns.values()])
        return self.programme.solve(limit_s=limit_s, gap=gap, watch=watch)

    def chosen(self, values: Sequence[float]) -> list[Chosen]:
        """The places of every run's joints and ends in an answer, as the search writes them."""
        taken: dict[Node, int] = {
            (run, here): arc.steps for run, here, arc, column in self.boards if values[column] > 0.5
        }
        columns = []
        for run in self.search.runs:
            at = 0 if not run.closed else min(index for number, index in taken if number == run.number)
            end = at + len(run.places) if run.closed else len(run.places) - 1
            places = [at]
            while at < end:
                at += taken[run.number, at % len(run.places)]
                places.append(at)
            columns.append(tuple(places))
        return columns

    def cut(self, values: Sequence[float], blanks: Sequence[Sequence[Blank]]) -> list[list[CutSheet]] | None:
        """The sheets of an answer with the boards cut from their slots, group by group; None when they do not fit."""
        groups = []
        for number, wanted in enumerate(blanks):
            cut = self._cut_group(number, values, wanted)
            if cut is None:
                return None
            groups.append(cut)
        return groups

    def _cut_group(self, number: int, values: Sequence[float], blanks: Sequence[Blank]) -> list[CutSheet] | None:
        group = self.groups[number]
        ripped: dict[tuple[int, int], list[Counts]] = defaultdict(list)
        for strip, column in self.strips.items():
            if strip.group == number:
                ripped[strip.level, strip.kind] += [strip.counts] * round(values[column])
        sheets: list[_SheetOfStrips] = []
        for sheet, column in self.patterns.items():
            if sheet.group == number:
                for _ in range(round(values[column])):
                    strips = [
                        _Strip(group.levels.heights[level], ripped[level, sheet.kind].pop())
                        for level in reversed(range(len(sheet.counts)))
                        for _ in range(sheet.counts[level])
                        if ripped[level, sheet.kind]
                    ]
                    sheets.append(_SheetOfStrips(group.sheets.kinds[sheet.kind], strips))
        if not _fill(group.widths, [strip for sheet in sheets for strip in sheet.strips], blanks):
            return None
        return [sheet.cut() for sheet in sheets if any(strip.blanks for strip in sheet.strips)]


@dataclass
class _Strip:
    """One strip of an answer: height and slots by width (steps), and the boards cut from it."""

    height: int
    counts: Counts
    blanks: list[Blank] = field(default_factory=list)


@dataclass
class _SheetOfStrips:
    kind: SheetKind
    strips: list[_Strip]

    def cut(self) -> CutSheet:
        """Strips from the bottom up, the highest first; boards from the left; what is over is free."""
        sheet, up = CutSheet(self.kind), 0.0
        for strip in self.strips:
            if not strip.blanks:
                continue
            tall, across = max(blank.height_mm for blank in strip.blanks), 0.0
            for blank in strip.blanks:
                sheet.cuts.append((blank.number, Corner(across, up, blank.width_mm, blank.height_mm)))
                sheet.free.append(Corner(across, up + blank.height_mm, blank.width_mm, tall - blank.height_mm))
                across += blank.width_mm
            sheet.free.append(Corner(across, up, self.kind.across_mm - across, tall))
            up += tall
        sheet.free.append(Corner(0.0, up, self.kind.across_mm, self.kind.up_mm - up))
        sheet.free = [rest for rest in sheet.free if min(rest.width_mm, rest.height_mm) > ROUNDING_MM]
        return sheet


def _fill(widths: Counts, strips: Sequence[_Strip], blanks: Sequence[Blank]) -> bool:
    """Give every board the narrowest slot still free that is high and wide enough, the highest boards first."""
    slots = [(widths[w], strip) for strip in strips for w, n in enumerate(strip.counts) for _ in range(n)]
    slots.sort(key=lambda slot: slot[0])
    for blank in sorted(blanks, key=lambda b: (-b.height_mm, -b.width_mm, b.number)):
        wide, high = steps_of_board(blank.width_mm), steps_of_board(blank.height_mm)
        at = next((n for n, (width, strip) in enumerate(slots) if width >= wide and strip.height >= high), None)
        if at is None:
            return False
        slots.pop(at)[1].blanks.append(blank)
    return True


def _only(index: int, count: int, length: int) -> Counts:
    return tuple(count if at == index else 0 for at in range(length))


def _between(
    best: tuple[float, Sequence[float], float] | None, share: float, answer: Answer
) -> tuple[Sequence[float], float]:
    """Values so far (a share) towards the best ones known, and what the programme is worth at them at least."""
    if best is None or not share:
        return answer.duals, answer.value
    value, duals, most = best
    # What the programme is worth is concave in the values.
    between = [share * dual / most + (1 - share) * other for dual, other in zip(duals, answer.duals, strict=True)]
    return between, share * value / most + (1 - share) * answer.value


def _best_pattern(case: StickCase, worth: Sequence[float]) -> list[tuple[float, Counts]]:
    """Per stick the pattern worth most, exactly; no size is limited, so one that a smaller one beats is left out."""
    columns: list[int] = []
    best = 0.0
    for at in reversed(range(len(case.sizes))):
        if worth[at] > best:
            best = worth[at]
            columns.append(at)
    columns.reverse()
    few = StickCase(
        tuple(case.sizes[at] for at in columns),
        tuple(case.demand[at] for at in columns),
        case.rooms,
        case.weights,
        case.limits,
    )
    whole = [math.floor(worth[at] * _WORTH_STEPS) for at in columns]
    patterns = []
    for value, counts in best_patterns(few, whole):
        all_counts = [0] * len(case.sizes)
        for at, count in zip(columns, counts, strict=True):
            all_counts[at] = count
        patterns.append((value / _WORTH_STEPS, tuple(all_counts)))
    return patterns


def _fullest(patterns: Sequence[Pattern], sizes: Counts, rooms: Counts) -> list[Pattern]:
    """Patterns in which no size can be exchanged for the next larger, nor one more be added: the rest are no use."""
    fullest = []
    for pattern in patterns:
        left = rooms[pattern.stick] - sum(size * n for size, n in zip(sizes, pattern.counts, strict=True))
        exchanges = (larger - size for (larger, size), n in zip(pairwise(sizes), pattern.counts[1:], strict=True) if n)
        if left < sizes[-1] and all(more > left for more in exchanges):
            fullest.append(pattern)
    return fullest


def _cliques(near: Mapping[Node, set[Node]], order: Mapping[Node, float]) -> list[tuple[Node, ...]]:
    """Sets of places of which at most one may be a joint, so that every two that exclude each other share one."""
    covered: set[tuple[Node, Node]] = set()
    cliques = []
    for joint in sorted(near, key=lambda node: (order[node], node)):
        for other in sorted(near[joint], key=lambda node: (order[node], node)):
            if (joint, other) in covered:
                continue
            clique = [joint, other]
            common = near[joint] & near[other]
            while common:
                more = min(common, key=lambda node: (abs(order[node] - order[joint]), node))
                clique.append(more)
                common = common & near[more]
            covered |= {(a, b) for a in clique for b in clique if a != b}
            cliques.append(tuple(clique))
    return cliques
