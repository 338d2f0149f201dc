"""Choosing the joints: a dynamic programme per run of board, then re-optimising a few courses at a time.

The price of a piece depends on which other pieces share its sheet, so each run is solved under approximate
piece prices, all pieces are then cut from sheets for their true price, and changes that make the whole cheaper
are kept. What must not be is weighed first, then the price, then the length of joints.
"""

from __future__ import annotations

import random
from bisect import bisect_left, bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import pairwise

from catalog.core.ground.units import TOLERANCE_MM
from jobs.core.boards.board_layout import (
    LayerLine,
    Stretch,
    Surface,
    board_height_at,
    near_an_opening,
    piece_box,
    stretches,
)
from jobs.core.cutting.sheet_cutting import FIT_MM, METHODS, Blank, CutSheet, Method, SheetKind, cut_sheets, weight_of

OFF_STUD, NEAR_OPENING, TOO_NEAR = 100, 10, 1
"""How bad it is, in this order, that a joint stands on no stud, near an opening, or near another joint."""

MIN_BOARD_MM = 1.0
"""A stud nearer than this to the end of a run makes no joint: there would be no board beside it."""


@dataclass(frozen=True)
class Rules:
    """Joints keep stagger_mm from each other and clear_mm from the edges of openings, both mm, >= 0."""

    stagger_mm: float
    clear_mm: float


@dataclass(frozen=True)
class HungLayer:
    """One layer to search: its surface, the lines of its courses (mm, upwards), its group of sheets, and its studs.

    stud_along_mm: where studs stand along the centreline, mm, each once, in order. face: layers of one face carry one
    number and follow each other from the framing outwards; layers of different faces keep no distance.
    """

    surface: Surface
    course_lines_mm: tuple[float, ...]
    group: int
    stud_along_mm: tuple[float, ...]
    face: int = 0


@dataclass(frozen=True)
class Place:
    """A place a joint may stand: along the centreline, on the line of every layer of its face (0 on those of other
    faces), and its fault (0 is none)."""

    along_mm: float
    at_mm: tuple[float, ...]
    fault: int


@dataclass(frozen=True)
class Arc:
    """A board from one place to a later one: places passed, size, foot, head, two guesses at its weight."""

    steps: int
    width_mm: float
    foot_mm: float
    head_mm: float
    by_area: float
    by_pattern: float
    fault: int


Chosen = tuple[int, ...]


@dataclass(frozen=True)
class Run:
    """A run of board with its places in order; an open run's first and last places are its ends.

    arcs: per place, the boards that may start there. joint_mm: per place, the length a joint would have there.
    """

    number: int
    layer: int
    course: int
    group: int
    closed: bool
    places: tuple[Place, ...]
    arcs: tuple[tuple[Arc, ...], ...]
    joint_mm: tuple[float, ...]
    turn_mm: float
    starts: int

    @cached_property
    def columns(self) -> tuple[tuple[float, ...], ...]:
        """Per layer, the places on that layer's line."""
        return tuple(zip(*(place.at_mm for place in self.places), strict=True))

    @cached_property
    def heights(self) -> frozenset[float]:
        """The heights its boards may have."""
        return frozenset(arc.head_mm - arc.foot_mm for arcs in self.arcs for arc in arcs)

    def joints(self, chosen: Chosen) -> tuple[int, ...]:
        """Indices of the places that are joints: on an open run all but its ends, on a closed one all."""
        if self.closed:
            return tuple(index % len(self.places) for index in chosen[:-1])
        return chosen[1:-1]

    def boards(self, chosen: Chosen) -> list[tuple[int, int, Arc]]:
        """The boards between chosen places, as (from index, to index, arc)."""
        options = []
        for here, there in pairwise(chosen):
            arc = next(a for a in self.arcs[here % len(self.places)] if a.steps == there - here)
            options.append((here, there, arc))
        return options


@dataclass(frozen=True)
class Standing:
    """How good a solution is: faults first, then weight, then joints; smaller is better."""

    faults: int
    weight: float
    joint_mm: float

    def beats(self, other: Standing) -> bool:
        if self.faults != other.faults:
            return self.faults < other.faults
        if abs(self.weight - other.weight) > 1e-9 * max(1.0, abs(self.weight)):
            return self.weight < other.weight
        return self.joint_mm < other.joint_mm - TOLERANCE_MM


@dataclass
class Solution:
    """Chosen places of every run, the sheets they are cut from, group by group, and its standing."""

    chosen: list[Chosen]
    sheets: list[list[CutSheet]]
    methods: list[Method]
    standing: Standing


@dataclass(frozen=True)
class _Prices:
    """Approximate prices: a mix of two guesses, and a share paid for pieces that fit what is left elsewhere."""

    by_area: float
    offcut_share: float = 1.0
    free: dict[int, list[tuple[float, float]]] = field(default_factory=dict)


class BoardSearch:
    """The runs of one or several faces and the search over their joints; the same input gives the same answer.

    layers: face after face, each from the framing outwards. groups: the sheets of each group of layers; layers of one
    group share their sheets, whichever face they hang on. rules: distances to keep. seed: of the search.

    Source: own measurement of methods; a dynamic programme per course and re-optimising one to three courses
    came within 1.6 % of proven plans.

    >>> from jobs.core.boards.board_layout import line_of_layer, surface_of
    >>> from jobs.core.measure.curve import _example, curve_of
    >>> surface = surface_of(line_of_layer(curve_of(_example()), "right", 0.0, 6.35))
    >>> kinds = (SheetKind("4x8", 2438.4, 1219.2, 1.0),)
    >>> studs = tuple(surface.line.curve.centre_length_mm * n / 24 for n in range(25))
    >>> layer = HungLayer(surface, (0.0, 1219.2, 2438.4, 2743.2), 0, studs)
    >>> search = BoardSearch([layer], [kinds], Rules(254.0, 152.4))
    >>> search.improve(search.first_solutions()[0], 20).standing.faults
    0
    """

    def __init__(
        self,
        layers: Sequence[HungLayer],
        groups: Sequence[tuple[SheetKind, ...]],
        rules: Rules,
        seed: int = 0,
    ) -> None:
        self.layers = tuple(layers)
        self.groups = tuple(groups)
        self.rules = rules
        self._rows: dict[int, list[list[tuple[int, float, float, float, float]]]] = {}
        self._guesses = tuple(_Guesses(kinds) for kinds in groups)
        self.lines: tuple[LayerLine, ...] = tuple(layer.surface.line for layer in layers)
        self._random = random.Random(seed)
        self._heaviest = max((kind.weight for kinds in groups for kind in kinds), default=0.0) or 1.0
        self._fault_weight = 1e6 * self._heaviest
        self.runs = tuple(self._laid_runs())
        self.beside = tuple(self._runs_beside(run) for run in self.runs)
        self._courses = sorted({(run.layer, run.course) for run in self.runs})

    # --- the runs and what may stand where ---

    def _laid_runs(self) -> list[Run]:
        runs: list[Run] = []
        for number, layer in enumerate(self.layers):
            lines = layer.course_lines_mm
            for course, (foot, head) in enumerate(pairwise(lines)):
                for stretch in stretches(layer.surface, foot, head):
                    runs.append(self._run(len(runs), number, course, foot, head, stretch))
        return runs

    def _run(
        self,
        number: int,
        layer: int,
        course: int,
        foot: float,
        head: float,
        stretch: Stretch,
    ) -> Run:
        surface, kinds = self.layers[layer].surface, self.groups[self.layers[layer].group]
        top = min(head, surface.greatest(stretch.from_mm, stretch.to_mm))
        widest = max(kind.across_mm for kind in kinds if kind.holds(0.0, top - foot))
        places = self._places(layer, foot, top, stretch, widest)
        arcs = tuple(
            tuple(self._arcs_from(start, places, layer, foot, head, stretch, widest))
            for start in range(len(places) if stretch.closed else len(places) - 1)
        )
        joints = tuple(board_height_at(surface, place.at_mm[layer], foot, head) for place in places)
        starts = sum(1 for p in places if p.at_mm[layer] <= places[0].at_mm[layer] + widest + TOLERANCE_MM)
        turn, group = surface.line.length_mm, self.layers[layer].group
        return Run(number, layer, course, group, stretch.closed, tuple(places), arcs, joints, turn, starts)

    def _places(self, layer: int, foot: float, top: float, stretch: Stretch, widest: float) -> list[Place]:
        line = self.lines[layer]
        low, high = stretch.from_mm, stretch.to_mm
        turns = (0, 1) if line.is_loop and not stretch.closed else (0,)
        marks: list[tuple[float, float, bool]] = []
        for turn in turns:
            for along in self.layers[layer].stud_along_mm:
                shifted = along + turn * line.curve.centre_length_mm
                at = line.at(shifted)
                if stretch.closed or low + MIN_BOARD_MM < at < high - MIN_BOARD_MM:
                    marks.append((at, shifted, True))
        ends = [] if stretch.closed else [low, high]
        marks += [(at, line.along(at), False) for at in self._without_stud(marks, ends, low, high, widest)]
        marks.sort()
        places = [self._place(layer, foot, top, *mark) for mark in marks]
        if stretch.closed:
            return places
        first, last = (self._place(layer, foot, top, at, line.along(at), True, end=True) for at in ends)
        return [first, *places, last]

    @staticmethod
    def _without_stud(
        marks: list[tuple[float, float, bool]], ends: list[float], low: float, high: float, widest: float
    ) -> list[float]:
        """Places to break gaps between studs wider than the widest sheet: no stud is there, and that is said."""
        known = sorted([at for at, _, _ in marks] + ends)
        if not ends:
            known = [*known, known[0] + high - low] if known else [low, high]
        lines = [low] if not ends and not marks else []
        for here, there in pairwise(known):
            parts = int(-(-(there - here - TOLERANCE_MM) // widest))
            for part in range(1, parts):
                lines.append(here + (there - here) * part / parts)
        return [at if at < high or ends else at - (high - low) for at in lines]

    def _place(
        self,
        layer: int,
        foot: float,
        top: float,
        at: float,
        along: float,
        on_stud: bool,
        *,
        end: bool = False,
    ) -> Place:
        fault = 0
        if not end:
            fault += 0 if on_stud else OFF_STUD
            if near_an_opening(self.layers[layer].surface, at, foot, top, self.rules.clear_mm):
                fault += NEAR_OPENING
        face = self.layers[layer].face
        own = [
            line.at(along) if other.face == face else 0.0 for line, other in zip(self.lines, self.layers, strict=True)
        ]
        own[layer] = at
        return Place(along, tuple(own), fault)

    def _arcs_from(
        self,
        start: int,
        places: list[Place],
        layer: int,
        foot: float,
        head: float,
        stretch: Stretch,
        widest: float,
    ) -> list[Arc]:
        surface, guess = self.layers[layer].surface, self._guesses[self.layers[layer].group]
        count, length = len(places), surface.line.length_mm
        options = []
        for stop in range(start + 1, start + count + 1 if stretch.closed else count):
            turn = length if stretch.closed and stop >= count else 0.0
            from_mm, to_mm = places[start].at_mm[layer], places[stop % count].at_mm[layer] + turn
            if to_mm - from_mm > widest + TOLERANCE_MM:
                break
            box_foot, box_head = piece_box(surface, from_mm, to_mm, foot, head)
            between_joints = stretch.closed or (start > 0 and stop < count - 1)
            short = between_joints and surface.line.near(from_mm, to_mm) < self.rules.stagger_mm - TOLERANCE_MM
            fault = TOO_NEAR if short and stop - start < count else 0
            by_area, by_pattern = guess.of(to_mm - from_mm, box_head - box_foot)
            options.append(Arc(stop - start, to_mm - from_mm, box_foot, box_head, by_area, by_pattern, fault))
        return options

    def _runs_beside(self, run: Run) -> tuple[int, ...]:
        """Runs whose joints must keep their distance from this one's."""
        return tuple(
            other.number for other in self.runs if other.number != run.number and self._beside_each_other(run, other)
        )

    def _beside_each_other(self, run: Run, other: Run) -> bool:
        if run.layer == other.layer:
            return abs(run.course - other.course) <= 1
        if abs(run.layer - other.layer) != 1 or self.layers[run.layer].face != self.layers[other.layer].face:
            return False
        a, b = self.layers[run.layer].course_lines_mm, self.layers[other.layer].course_lines_mm
        shared = min(a[run.course + 1], b[other.course + 1]) - max(a[run.course], b[other.course])
        return shared > TOLERANCE_MM

    # --- one run ---

    def _solve(self, run: Run, chosen: Sequence[Chosen | None], prices: _Prices, shake: float) -> Chosen:
        """The cheapest joints of a run under these prices, beside the joints of the others as they stand."""
        faults = self._faults_by_place(run, chosen)
        # Shorter joints break ties; the shake makes the search look elsewhere.
        costs = [
            fault * self._fault_weight + self._heaviest * (joint * 1e-7 + shake * self._random.random())
            for fault, joint in zip(faults, run.joint_mm, strict=True)
        ]
        weighed = self._weighed(run, prices)
        count = len(run.places)
        if not run.closed:
            costs[0] = costs[-1] = 0.0
            return self._shortest(run, weighed, costs, 0, count - 1)[1]
        starts: Sequence[int] = range(run.starts)
        if shake and run.starts > 6:
            starts = self._random.sample(starts, 6)
        return min((self._shortest(run, weighed, costs, s, s + count) for s in starts), key=lambda path: path[0])[1]

    def _weighed(self, run: Run, prices: _Prices) -> list[list[tuple[int, float]]]:
        """Per place, (places passed, weight) of the boards that may start there, at these prices."""
        share, by_area = prices.offcut_share, prices.by_area
        free = prices.free.get(run.group)
        if not free:
            return [
                [(steps, pattern + more * by_area) for steps, pattern, more, _, _ in row]
                for row in self._priced_arcs(run)
            ]
        widest = {height: _widest(free, height) for height in run.heights}
        return [
            [
                (steps, (pattern + more * by_area) * (share if width <= widest[height] else 1.0))
                for steps, pattern, more, width, height in row
            ]
            for row in self._priced_arcs(run)
        ]

    def _priced_arcs(self, run: Run) -> list[list[tuple[int, float, float, float, float]]]:
        """The boards of a run as plain rows: places passed, weight by pattern, more by area, width, height."""
        known = self._rows.get(run.number)
        if known is None:
            known = [
                [
                    (
                        arc.steps,
                        arc.by_pattern + arc.fault * self._fault_weight,
                        arc.by_area - arc.by_pattern,
                        arc.width_mm,
                        arc.head_mm - arc.foot_mm,
                    )
                    for arc in arcs
                ]
                for arcs in run.arcs
            ]
            self._rows[run.number] = known
        return known

    def guide(self, weights: Mapping[tuple[int, int, int], float]) -> None:
        """Put better guesses in the place of those by area: weight by (run, place it starts at, places passed)."""
        for run in self.runs:
            self._rows[run.number] = [
                [
                    (steps, pattern, weights.get((run.number, here, steps), pattern + more) - pattern, width, height)
                    for steps, pattern, more, width, height in row
                ]
                for here, row in enumerate(self._priced_arcs(run))
            ]

    @staticmethod
    def _shortest(
        run: Run, weighed: list[list[tuple[int, float]]], costs: list[float], first: int, last: int
    ) -> tuple[float, Chosen]:
        count = len(run.places)
        best = [float("inf")] * (last - first + 1)
        before = [0] * (last - first + 1)
        best[0] = 0.0
        for here in range(last - first):
            reached = best[here]
            if reached == float("inf"):
                continue
            for steps, weight in weighed[(first + here) % count]:
                there = here + steps
                if there > last - first:
                    break
                total = reached + weight + costs[(first + there) % count]
                if total < best[there]:
                    best[there], before[there] = total, here
        chosen, at = [last], last - first
        while at:
            at = before[at]
            chosen.append(first + at)
        return best[last - first], tuple(reversed(chosen))

    def _faults_by_place(self, run: Run, chosen: Sequence[Chosen | None]) -> list[int]:
        faults = [place.fault for place in run.places]
        for number in self.beside[run.number]:
            others = chosen[number]
            if others is None:
                continue
            beside = self.runs[number]
            for index in beside.joints(others):
                for at in self.within(run, beside, beside.places[index]):
                    faults[at] += TOO_NEAR
        return faults

    def within(self, run: Run, beside: Run, joint: Place) -> set[int]:
        """Places of a run nearer to a joint of another than the stagger, on either layer's line."""
        reach = self.rules.stagger_mm - TOLERANCE_MM
        numbers: set[int] = set()
        for layer in {run.layer, beside.layer}:
            column, turn = run.columns[layer], self.lines[layer].length_mm
            for shift in (-turn, 0.0, turn) if self.lines[layer].is_loop else (0.0,):
                at = joint.at_mm[layer] + shift
                numbers.update(range(bisect_right(column, at - reach), bisect_left(column, at + reach)))
        return numbers

    # --- all runs ---

    def blanks(self, chosen: Sequence[Chosen]) -> list[list[Blank]]:
        """Rectangles needed per group of sheets, numbered run by run, empty boards left out."""
        blanks: list[list[Blank]] = [[] for _ in self.groups]
        number = 0
        for run in self.runs:
            for _, _, arc in run.boards(chosen[run.number]):
                if arc.head_mm - arc.foot_mm > TOLERANCE_MM:
                    blanks[run.group].append(Blank(number, arc.width_mm, arc.head_mm - arc.foot_mm))
                number += 1
        return blanks

    def faults(self, chosen: Sequence[Chosen]) -> int:
        """Weight of everything that must not be, each pair of near joints once."""
        total = 0
        for run in self.runs:
            mine = chosen[run.number]
            total += sum(run.places[index].fault for index in run.joints(mine))
            total += sum(arc.fault for _, _, arc in run.boards(mine))
        return total + len(self.near_pairs(chosen))

    def near_pairs(self, chosen: Sequence[Chosen]) -> list[tuple[int, int, int, int]]:
        """Joints of different runs that are too near: (run, place, other run, other place)."""
        entries = []
        for run in self.runs:
            joints = set(run.joints(chosen[run.number]))
            for number in self.beside[run.number]:
                if number > run.number:
                    beside = self.runs[number]
                    for index in beside.joints(chosen[number]):
                        near = self.within(run, beside, beside.places[index]) & joints
                        entries += [(run.number, at, number, index) for at in sorted(near)]
        return entries

    def judge(self, chosen: list[Chosen], methods: Sequence[Sequence[Method]]) -> Solution:
        """These joints with the best of these ways of cutting the boards, per group of sheets."""
        sheets, used = [], []
        for blanks, kinds, tries in zip(self.blanks(chosen), self.groups, methods, strict=True):
            cut = [(cut_sheets(blanks, kinds, method), method) for method in tries]
            best, method = min(cut, key=lambda pair: weight_of(pair[0]))
            sheets.append(best)
            used.append(method)
        weight = sum(weight_of(group) for group in sheets)
        return Solution(chosen, sheets, used, Standing(self.faults(chosen), weight, self.joints_mm(chosen)))

    def joints_mm(self, chosen: Sequence[Chosen]) -> float:
        """Length of all upright joints, mm."""
        return sum(run.joint_mm[index] for run in self.runs for index in run.joints(chosen[run.number]))

    def first_solutions(self) -> list[Solution]:
        """A few complete solutions under plain piece prices, best first."""
        solutions = []
        for by_area in (0.0, 0.5, 1.0):
            chosen: list[Chosen | None] = [None] * len(self.runs)
            for run in self.runs:
                chosen[run.number] = self._solve(run, chosen, _Prices(by_area), 0.0)
            complete = [choice for choice in chosen if choice is not None]
            solutions.append(self.judge(complete, [METHODS] * len(self.groups)))
        return sorted(solutions, key=lambda s: (s.standing.faults, s.standing.weight, s.standing.joint_mm))

    def improve(self, solution: Solution, rounds: int) -> Solution:
        """Re-optimise one to three courses at a time for so many rounds, keeping what is better."""
        best = solution
        for _ in range(rounds if self._courses else 0):
            tried = self._retry(best)
            if tried.standing.beats(best.standing):
                best = tried
        return self._settled(best)

    def _retry(self, best: Solution) -> Solution:
        draw = self._random
        picked = draw.sample(self._courses, min(len(self._courses), draw.randint(1, 3)))
        runs = [run for run in self.runs if (run.layer, run.course) in picked]
        chosen: list[Chosen | None] = list(best.chosen)
        for run in runs:
            chosen[run.number] = None
        free = self._free_beside(best, chosen) if draw.random() < 0.5 else {}
        prices = _Prices(draw.random(), draw.choice((0.0, 0.3, 0.6)), free)
        shake = draw.choice((0.0, 0.02, 0.1, 0.3))
        for run in runs:
            chosen[run.number] = self._solve(run, chosen, prices, shake)
        methods = [(method, draw.choice(METHODS)) for method in best.methods]
        return self.judge([choice for choice in chosen if choice is not None], methods)

    def _free_beside(self, best: Solution, chosen: Sequence[Chosen | None]) -> dict[int, list[tuple[float, float]]]:
        """What would be left of the sheets if only the kept runs were cut."""
        number, numbers = 0, set()
        for run in self.runs:
            for _ in range(len(best.chosen[run.number]) - 1):
                if chosen[run.number] is not None:
                    numbers.add(number)
                number += 1
        free: dict[int, list[tuple[float, float]]] = {}
        for group, (blanks, method) in enumerate(zip(self.blanks(best.chosen), best.methods, strict=True)):
            cut = cut_sheets([b for b in blanks if b.number in numbers], self.groups[group], method)
            rooms = sorted({(c.width_mm, c.height_mm) for sheet in cut for c in sheet.free}, reverse=True)
            free[group] = _undominated(rooms)
        return free

    def _settled(self, best: Solution) -> Solution:
        """The same joints cut in the best of all ways tried."""
        last = self.judge(best.chosen, [METHODS] * len(self.groups))
        return last if last.standing.beats(best.standing) else best


def _undominated(rooms: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Only rectangles that no other is both as wide and as high as; widest first."""
    ends: list[tuple[float, float]] = []
    for width, height in rooms:
        if not ends or height > ends[-1][1]:
            ends.append((width, height))
    return ends


def _widest(rooms: Sequence[tuple[float, float]], height_mm: float) -> float:
    """Width of the widest rectangle at least so high; rooms are widest first."""
    return next((width for width, height in rooms if height >= height_mm), 0.0)


class _Guesses:
    """A piece's weight by its share of a sheet's area, and by how many like it a sheet yields."""

    def __init__(self, kinds: Sequence[SheetKind]) -> None:
        self._kinds = tuple(kinds)
        self._by_height: dict[float, list[tuple[float, float, float]]] = {}

    def of(self, width_mm: float, height_mm: float) -> tuple[float, float]:
        if height_mm <= TOLERANCE_MM:
            return 0.0, 0.0
        by_area = by_pattern = float("inf")
        for across, per_mm, per_strip in self._for_height(height_mm):
            if width_mm <= across:
                by_area = min(by_area, per_mm * width_mm)
                by_pattern = min(by_pattern, per_strip / max(1, across // width_mm))
        return by_area, by_pattern

    def _for_height(self, height_mm: float) -> list[tuple[float, float, float]]:
        """Per sheet that is high enough: extent across, weight of a mm of the strip, weight of the strip."""
        known = self._by_height.get(height_mm)
        if known is None:
            known = [
                (
                    kind.across_mm + FIT_MM,
                    kind.weight * height_mm / (kind.across_mm * kind.up_mm),
                    kind.weight / max(1, (kind.up_mm + FIT_MM) // height_mm),
                )
                for kind in self._kinds
                if kind.holds(0.0, height_mm)
            ]
            self._by_height[height_mm] = known
        return known
