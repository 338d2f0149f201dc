"""Board plans proven near the optimum: the heuristic's plan, an integer programme over joints and sheets, a bound.

`jobs.core.boards.boards.plan_face` answers at once and is the control here: a plan made here never stands below it. The
search takes a time limit; where it is not reached the same input gives the same plan.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from catalog.core.materials.standards import Standards
from jobs.core.boards.board_milp import FaceModel
from jobs.core.boards.board_search import BoardSearch, Solution, Standing
from jobs.core.boards.boards import (
    BoardError,
    BoardLayer,
    CoursesFrom,
    FacePlan,
    JobSheets,
    LaidFace,
    lay_out_face,
    plan_face,
)
from jobs.core.boards.sheet_sharing import LaidJob, lay_together
from jobs.core.cutting.cutting_patterns import common_measure, rounded_up
from jobs.core.cutting.integer_program import INFINITY, Allowance, PlanProgress, Stopwatch, Tell
from jobs.core.cutting.sheet_cutting import METHODS, weight_of
from jobs.core.measure.curve import Curve, Face

_GUIDED_ROUNDS = 900
_MAX_A_TURN = 150
_BOARDS_A_TURN = 15_000
"""Rounds of the heuristic with the prices of the linear programme, in turns of fewer the more boards there are.
Measured: 900 rounds took a 60 ft wall from 2.4 to 1.5 % and a 20 ft wall from 5.2 to 2.0 % over its bound."""

_SAME_AREA = 1e-8
_POLISH_ROUNDS = 20
"""Rounds at the end: of two plans of one price the one with shorter joints is the better."""

_SHARE_FOR_LINEAR = 0.6
"""Of the time, what the linear programme may take before the heuristic goes on with its prices as they are then."""

_SHARE_FOR_BRANCHING = 0.3
"""Of the time left, what branching on sheets and joints may take; the integer programme gets the rest."""


@dataclass(frozen=True)
class ProvenFace:
    """A plan of one face and what is proven of it.

    plan: the face hung. quick_cost: of the plan the heuristic alone gave, None while a price is missing.
    bound_cost: no plan of these layers can cost less that breaks no more joint rules, lies in courses as plans here
    do, and rips its sheets into strips from end to end before cutting them across; None while a price is missing or
    nothing is proven. gap: cost above the bound as a share of the bound, 0 when proven best, None without a bound;
    it is of the area bought while a price is missing. working: the same in words.
    """

    plan: FacePlan
    quick_cost: Decimal | None
    bound_cost: Decimal | None
    gap: float | None
    working: tuple[str, ...]

    @property
    def proven(self) -> bool:
        """Whether no plan of the kind described can be cheaper."""
        return self.gap == 0


@dataclass(frozen=True)
class ProvenJob:
    """A plan of several faces whose sheets are cut together, and what is proven of it.

    plans: the faces hung, in the order given, each with its sheets as if bought alone. sheets: what is bought and how
    it is cut, off-cuts shared by all. quick_cost: of what the heuristic alone gave, cut together; bound_cost, gap,
    working: as of `ProvenFace`, over all faces together.
    """

    plans: tuple[FacePlan, ...]
    sheets: JobSheets
    quick_cost: Decimal | None
    bound_cost: Decimal | None
    gap: float | None
    working: tuple[str, ...]

    @property
    def cost(self) -> Decimal | None:
        """Money for all sheets, None while a price is missing."""
        return self.sheets.cost


def prove_job(
    faces: Sequence[LaidFace],
    *,
    seed: int = 0,
    limit_s: float = 60.0,
    gap: float = 0.0,
    stopwatch: Stopwatch | None = None,
    tell: Tell | None = None,
) -> ProvenJob:
    """Plan the boards of several faces together, as `prove_face` does one.

    Args:
        faces: as `jobs.core.boards.boards.lay_out_face` gives them; each key and face once.
        seed, limit_s, gap, stopwatch, tell: as `prove_face`.

    Returns:
        The plan, never dearer than the faces planned quickly and their sheets merged. The bound holds for all plans of
        these faces together that share sheets; nothing is proven when their courses may lie in too many ways.

    Raises:
        BoardError: no faces, one given twice, a time limit or gap below zero or not a number.

    Source: as `prove_face`.

    >>> from catalog.core.materials.standards import starter_standards
    >>> from jobs.core.boards.boards import Sheet
    >>> from jobs.core.measure.curve import curve_of
    >>> from jobs.core.measure.survey import HeightProfile, StraightPiece, Survey
    >>> survey = Survey((StraightPiece(3657.6),), HeightProfile(((0.0, 1219.2),)), "centre", 92.0, 12.7, 12.7)
    >>> layer = BoardLayer("GB", 12.7, "lengthwise", (Sheet("4x8", 2438.4, 1219.2, Decimal("11.00")),))
    >>> studs = [406.4 * n for n in range(10)]
    >>> laid = [lay_out_face(curve_of(survey), face, [layer], studs, starter_standards()) for face in ("left", "right")]
    >>> found = prove_job([face for face in laid if face])
    >>> [str(plan.cost) for plan in found.plans], found.cost, found.gap
    (['22.00', '22.00'], Decimal('33.00'), 0.0)
    """
    _check_limits(limit_s, gap)
    search = _Search(lay_together(faces, seed=seed), Allowance(limit_s, stopwatch), gap, tell)
    search.run()
    return search.proven_job()


def _check_limits(limit_s: float, gap: float) -> None:
    for field, value in (("limit_s", limit_s), ("gap", gap)):
        if not (math.isfinite(value) and value >= 0):
            raise BoardError(field, f"{field} must be a number, zero or more; {value:g} was given")


def prove_face(
    curve: Curve,
    face: Face,
    layers: Sequence[BoardLayer],
    stud_along_mm: Sequence[float],
    standards: Standards,
    *,
    key: str = "wall",
    courses_from: CoursesFrom = "floor",
    seed: int = 0,
    limit_s: float = 20.0,
    gap: float = 0.0,
    stopwatch: Stopwatch | None = None,
    tell: Tell | None = None,
) -> ProvenFace:
    """Plan the boards of one face as cheaply as can be found in the time, with a bound no such plan can beat.

    Args:
        curve, face, layers, stud_along_mm, standards, key, courses_from, seed: as `jobs.core.boards.boards.plan_face`.
        limit_s: seconds at most for what goes beyond the heuristic, >= 0; at 0 its plan is returned.
        gap: stop when cost and bound are this near, as a share, >= 0; 0.01 is within one per cent.
        stopwatch: reads seconds; without one only the solver's own seconds are counted.
        tell: called now and then with how far the plan has come.

    Returns:
        The plan, never one that breaks more joint rules than the heuristic's or costs more, and what is proven.

    Raises:
        BoardError: as `plan_face`; a time limit or gap below zero or not a number.

    Source: rules as `plan_face`; the programme as `jobs.core.boards.board_milp`.

    >>> from catalog.core.materials.standards import starter_standards
    >>> from jobs.core.boards.boards import Sheet
    >>> from jobs.core.measure.curve import curve_of
    >>> from jobs.core.measure.survey import HeightProfile, StraightPiece, Survey
    >>> survey = Survey((StraightPiece(4876.8),), HeightProfile(((0.0, 2438.4),)), "centre", 92.0, 12.7, 0.0)
    >>> sheet = Sheet("4x8", 2438.4, 1219.2, Decimal("11.00"))
    >>> studs = [406.4 * n for n in range(13)]
    >>> found = prove_face(curve_of(survey), "left", [BoardLayer("GB", 12.7, "lengthwise", (sheet,))], studs,
    ...     starter_standards())
    >>> found.plan.cost, found.bound_cost, found.gap
    (Decimal('44.00'), Decimal('44.00'), 0.0)
    """
    _check_limits(limit_s, gap)
    laid = lay_out_face(curve, face, layers, stud_along_mm, standards, key=key, courses_from=courses_from, seed=seed)
    if laid is None:
        plan = plan_face(curve, face, layers, stud_along_mm, standards, key=key, courses_from=courses_from, seed=seed)
        return ProvenFace(plan, plan.cost, None, None, ())
    search = _Search(lay_together([laid]), Allowance(limit_s, stopwatch), gap, tell)
    search.run()
    return search.proven_face()


def _weights(laid: LaidJob) -> list[Fraction]:
    """The weights of all sheets, exactly: prices, or areas while one is missing."""
    sheets = [sheet for _, _, some in laid.groups.items for sheet in some]
    if all(sheet.price is not None for sheet in sheets):
        return [Fraction(sheet.price) for sheet in sheets if sheet.price is not None]
    return [Fraction(kind.weight) for kinds in laid.groups.kinds for kind in kinds]


class _Search:
    """The best solution so far of any way the courses may lie, and the least proven of all of them."""

    def __init__(self, laid: LaidJob, allowance: Allowance, gap: float, tell: Tell | None) -> None:
        self.laid = laid
        self.allowance = allowance
        self.gap = gap
        self.tell = tell
        self.weights = _weights(laid)
        self.priced = all(sheet.price is not None for _, _, some in laid.groups.items for sheet in some)
        self.best = laid.quick()
        self.quick = self.best
        self.faults_proven = self.best[1].standing.faults == 0
        # Per way of laying the courses, what none of its plans can weigh less than.
        self.bounds: dict[int, Fraction] = {}

    @property
    def weight(self) -> Fraction:
        """Of the best solution, exactly."""
        _, solution = self.best
        return self._exactly(solution)

    def _exactly(self, solution: Solution) -> Fraction:
        if not self.priced:
            return Fraction(solution.standing.weight)
        total = Fraction(0)
        for group, cut in enumerate(solution.sheets):
            prices = {sheet.code: sheet.price for sheet in self.laid.groups.items[group][2]}
            total += sum((Fraction(prices[sheet.kind.code] or 0) for sheet in cut), Fraction(0))
        return total

    @property
    def bound(self) -> Fraction | None:
        """What no plan can weigh less than: the least over all ways, None while one of them is open."""
        if len(self.bounds) < len(self.laid.searches) or not self.faults_proven or not self.laid.complete:
            return None
        return min(self.bounds.values())

    def say(self, doing: str, weight: float | None = None) -> None:
        if self.tell is not None:
            bound = self.bound
            least = float(self.weight) if weight is None else min(weight, float(self.weight))
            self.tell(PlanProgress(doing, least, None if bound is None else float(min(bound, self.weight))))

    def run(self) -> None:
        if self.allowance.left_s <= 0:
            return
        self.say("heuristic")
        if not self.faults_proven:
            self.break_fewest_rules()
        # The way the heuristic liked best comes first: its plan closes the others sooner.
        ways = sorted(range(len(self.laid.searches)), key=lambda n: self.laid.searches[n] is not self.best[0])
        for turn, way in enumerate(ways):
            self.solve(way, self.allowance.left_s / (len(ways) - turn))
        search, solution = self.best
        self.best = (search, search.improve(solution, _POLISH_ROUNDS))
        self.say("finished")

    def break_fewest_rules(self) -> None:
        """Joints that break the fewest rules, when the studs do not let all be kept."""
        self.say("joint rules that cannot all be kept")
        least = []
        for way, search in enumerate(self.laid.searches):
            model = FaceModel(search, up=True, faults=self.best[1].standing.faults, supply=False)
            answer = model.fewest_faults(self.allowance.left_s / (2 * (len(self.laid.searches) - way)))
            self.allowance.take(model.programme.seconds)
            if answer.values:
                self.offer(search, search.judge(model.chosen(answer.values), [METHODS] * len(search.groups)))
            least.append(answer.bound if answer.status != "infeasible" else INFINITY)
        self.faults_proven = self.best[1].standing.faults <= math.ceil(min(least) - 1e-6)

    def solve(self, way: int, limit_s: float) -> None:
        """Bound one way of laying the courses, and look for its best plan."""
        search, faults = self.laid.searches[way], self.best[1].standing.faults
        allowance = self.allowance.part(limit_s)
        self.say("linear programme")
        model = FaceModel(search, up=False, faults=faults)
        linear = model.linear(allowance.part(allowance.left_s * _SHARE_FOR_LINEAR))
        self.guided(way, model, linear)
        if not model.converged and not self.closed(way):
            linear = model.linear(allowance)
            self.guided(way, model, linear)
        if not model.converged or self.closed(way):
            return
        self.say("branching on sheets and joints")
        share = allowance.part(allowance.left_s * _SHARE_FOR_BRANCHING)
        better = model.branch(
            linear,
            lambda: self.at_most / model.unit,
            share,
            lambda bound: self.raise_bound(way, bound * model.unit),
            lambda values: self.offer(search, search.judge(model.chosen(values), [METHODS] * len(search.groups))),
        )
        self.raise_bound(way, better * model.unit)
        if self.closed(way):
            return
        if not model.exact:
            model = FaceModel(search, up=True, faults=faults)
            linear = model.linear(allowance)
            if not model.converged:
                return
        self.whole(way, model, linear, allowance)

    @property
    def at_most(self) -> float:
        """What a better plan may weigh at most."""
        step = float(common_measure(self.weights)) if self.priced else 0.0
        return float(self.weight) - step

    def guided(self, way: int, model: FaceModel, linear: float) -> None:
        """The bound of the linear programme, and the heuristic again with what it says each board is worth."""
        if linear > 0:
            self.raise_bound(way, linear * model.unit)
        search = self.laid.searches[way]
        search.guide(model.board_weights())
        solution = self.best[1] if self.best[0] is search else search.first_solutions()[0]
        boards = sum(len(cuts) - 1 for cuts in solution.chosen)
        turn = max(1, min(_MAX_A_TURN, _BOARDS_A_TURN // max(1, boards)))
        for _ in range(0, _GUIDED_ROUNDS, turn):
            if self.closed(way):
                return
            self.say("heuristic at the prices of the linear programme")
            solution = search.improve(solution, turn)
            self.offer(search, solution)

    def whole(self, way: int, model: FaceModel, linear: float, allowance: Allowance) -> None:
        """Look for plans lighter than the best; when all patterns they may use are known, the bound counts."""
        complete, improved = False, True
        # With a lighter plan fewer patterns are worth knowing, and all of them may be few enough then.
        while improved and not complete and not self.closed(way):
            before = self.weight
            complete = self.look_for_lighter(way, model, linear, allowance)
            improved = self.weight < before

    def look_for_lighter(self, way: int, model: FaceModel, linear: float, allowance: Allowance) -> bool:
        """One integer programme; whether all patterns a lighter plan may use were known."""
        at_most = self.at_most / model.unit + 1e-7
        complete = model.add_improving(at_most - linear)
        self.say("integer programme")

        def watch(weight: float, bound: float) -> None:
            if complete and model.exact:
                self.raise_bound(way, bound * model.unit)
            self.say("integer programme", weight * model.unit if weight < 1e30 else None)

        before = model.programme.seconds
        answer = model.whole(
            allowance.left_s, at_most=at_most, gap=self.gap, watch=None if self.tell is None else watch
        )
        allowance.take(model.programme.seconds - before)
        before_this = self.weight
        if answer.values:
            self.offer(model.search, _solution(model, answer.values))
        if complete and model.exact:
            # No plan lighter than the best there was has a weight below the programme's bound.
            self.raise_bound(way, min(answer.bound * model.unit, float(before_this)))
        return complete

    def raise_bound(self, way: int, weight: float) -> None:
        if weight == INFINITY:
            weight = float(self.weight)
        exact = Fraction(max(0.0, weight * (1 - 1e-9)))
        if self.priced:
            exact = rounded_up(exact, self.weights)
        self.bounds[way] = max(exact, self.bounds.get(way, exact))

    def closed(self, way: int) -> bool:
        bound = float(self.bounds.get(way, 0))
        return (bound > 0 and float(self.weight) <= bound * (1 + self.gap)) or self.allowance.left_s <= 0

    def offer(self, search: BoardSearch, solution: Solution) -> None:
        if solution.standing.beats(self.best[1].standing):
            self.best = (search, solution)

    def proven_face(self) -> ProvenFace:
        """For one face laid alone, whose sheets are its own."""
        face = self.laid.faces[0]
        plan = face.finished(*self.best)
        return ProvenFace(plan, face.finished(*self.quick).cost, *self.proven(plan.cost))

    def proven_job(self) -> ProvenJob:
        sheets = self.laid.sheets(*self.best)
        quick, plans = self.laid.sheets(*self.quick).cost, self.laid.plans(*self.best)
        areas = [plan.bound_cost for plan in plans]
        # Of many faces the linear programme may not end in time; what their areas cost at least holds in any case.
        least = None if None in areas else sum((Fraction(area) for area in areas if area is not None), Fraction(0))
        return ProvenJob(plans, sheets, quick, *self.proven(sheets.cost, least))

    def proven(
        self, paid: Decimal | None, area: Fraction | None = None
    ) -> tuple[Decimal | None, float | None, tuple[str, ...]]:
        """What no plan can cost less than, how far above it this one is, and both in words. area: a bound by area."""
        known = [bound for bound in (self.bound, area) if bound is not None]
        bound = max(known, default=None)
        if bound is None:
            why = "the time did not suffice for a bound"
            if not self.laid.complete:
                why = "the courses of these faces may lie in too many ways to search them all"
            return None, None, (f"Nothing is proven of this plan: {why}.",)
        least = min(bound, self.weight)
        gap = float((self.weight - least) / least) if least > 0 else 0.0
        # Prices are exact, areas are not.
        gap = 0.0 if not self.priced and gap < _SAME_AREA else gap
        if not self.priced:
            words = f"{100 * gap:.2f} % above the least area that can be bought" if gap else "the least area"
            return None, gap, (f"By area, while a price is missing: {words}.",)
        cost = _money(least)
        if gap == 0:
            sentence = f"Proven: no plan whose sheets are ripped into strips can cost less than {cost}."
        else:
            sentence = (
                f"No plan whose sheets are ripped into strips can cost less than {cost}; this one costs {paid} "
                f"({100 * gap:.2f} % more)."
            )
        return cost, gap, (sentence,)


def _money(amount: Fraction) -> Decimal:
    """Money in whole cents, rounded down; prices are whole cents, so sums of them are exact."""
    return Decimal(amount.numerator * 100 // amount.denominator).scaleb(-2)


def _solution(model: FaceModel, values: Sequence[float]) -> Solution:
    """The answer's joints, cut as the answer says or as the heuristic would, whichever is lighter."""
    search, chosen = model.search, model.chosen(values)
    judged = search.judge(chosen, [METHODS] * len(search.groups))
    cut = model.cut(values, search.blanks(chosen))
    if cut is None:
        return judged
    standing = Standing(judged.standing.faults, sum(weight_of(group) for group in cut), judged.standing.joint_mm)
    return Solution(chosen, cut, judged.methods, standing) if standing.beats(judged.standing) else judged
