"""Linear and integer programmes, handed to HiGHS: the one module of the cores that needs a package.

HiGHS (and numpy, which it needs) is imported when a programme is first made, never when this module is: the cores
load without it. Everything else here is plain Python. The solver runs on one thread with a fixed seed, so that the
same programme gives the same answer, unless the time limit cuts it short.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    import highspy

Stopwatch = Callable[[], float]
"""Seconds that have passed since any fixed moment, never fewer than before; handed in, since no core has a clock."""

Status = Literal["optimal", "feasible", "infeasible", "unknown"]
INFINITY = math.inf


@dataclass(frozen=True)
class PlanProgress:
    """How far a plan has come: what is being done, the weight of the best plan so far and what none can beat.

    weight, bound: money, or the length or area bought while a price is missing; None while not known.
    """

    doing: str
    weight: float | None
    bound: float | None


Tell = Callable[[PlanProgress], None]
"""Called now and then with how far a plan has come; what it raises stops the planning and is passed on."""


class Allowance:
    """Seconds that may still be used.

    With a stopwatch everything counts; without one only the seconds the solver says it took, which it may exceed
    by the planner's own work.

    >>> from itertools import count
    >>> ticks = count()
    >>> allowance = Allowance(10.0, lambda: float(next(ticks)))
    >>> allowance.left_s
    9.0
    """

    def __init__(self, seconds: float, stopwatch: Stopwatch | None = None, whole: Allowance | None = None) -> None:
        self._seconds = seconds
        self._stopwatch = stopwatch
        self._whole = whole
        self._began = stopwatch() if stopwatch is not None else 0.0
        self._used = 0.0

    @property
    def left_s(self) -> float:
        """Seconds left, never below zero."""
        used = self._used if self._stopwatch is None else self._stopwatch() - self._began
        left = max(0.0, self._seconds - used)
        return left if self._whole is None else min(left, self._whole.left_s)

    def take(self, solver_s: float) -> None:
        """Count seconds the solver took."""
        self._used += solver_s
        if self._whole is not None:
            self._whole.take(solver_s)

    def part(self, seconds: float) -> Allowance:
        """An allowance out of this one: what is taken of it is taken of both.

        >>> whole = Allowance(10.0)
        >>> part = whole.part(4.0)
        >>> part.take(3.0)
        >>> part.left_s, whole.left_s
        (1.0, 7.0)
        """
        return Allowance(seconds, self._stopwatch, self)


@dataclass(frozen=True)
class Answer:
    """What the solver found.

    status: "optimal" within the gap asked for, "feasible" when stopped with an answer, "unknown" when stopped without.
    value: of the objective, infinity without an answer. bound: what no answer can be below, for integer programmes.
    values: per column. duals: per row, of a linear programme. reduced: reduced costs per column, likewise.
    """

    status: Status
    value: float
    bound: float
    values: tuple[float, ...]
    duals: tuple[float, ...]
    reduced: tuple[float, ...]


class IntegerProgram:
    """A minimisation that grows: rows first, then columns over them; solved again and again from where it stood.

    Source: the HiGHS solver, Huangfu and Hall, *Parallelizing the dual revised simplex method* (2018).

    >>> two_at_most_three = IntegerProgram()
    >>> row = two_at_most_three.add_row(2.0, INFINITY)
    >>> column = two_at_most_three.add_column(1.5, [(row, 1.0)], upper=3.0)
    >>> two_at_most_three.solve().value
    3.0
    """

    def __init__(self) -> None:
        import highspy

        class Quiet(highspy.Highs):
            def enableCallbacks(self) -> None:
                # HiGHS greets standard output here unless silenced first, and only then can it be.
                self.setOptionValue("output_flag", False)
                super().enableCallbacks()  # type: ignore[no-untyped-call]

        self._solver: highspy.Highs = Quiet()  # type: ignore[no-untyped-call]
        self._statuses = highspy.HighsModelStatus
        self._integer_type = highspy.HighsVarType.kInteger
        self._continuous_type = highspy.HighsVarType.kContinuous
        for option, value in (
            ("threads", 1),
            ("parallel", "off"),
            ("random_seed", 0),
        ):
            self._solver.setOptionValue(option, value)
        self.rows = 0
        self.columns = 0
        self.seconds = 0.0
        self._integers: set[int] = set()

    def add_row(self, lower: float, upper: float, entries: Sequence[tuple[int, float]] = ()) -> int:
        """A row between two limits (infinities allowed) over columns already there; its index."""
        self._solver.addRow(lower, upper, len(entries), [c for c, _ in entries], [v for _, v in entries])
        self.rows += 1
        return self.rows - 1

    def add_column(
        self,
        cost: float,
        entries: Sequence[tuple[int, float]],
        *,
        lower: float = 0.0,
        upper: float = INFINITY,
        integer: bool = False,
    ) -> int:
        """A column with its entries (row, value), each row once; its index."""
        self._solver.addCol(cost, lower, upper, len(entries), [r for r, _ in entries], [v for _, v in entries])
        self.columns += 1
        if integer:
            self.make_integer([self.columns - 1])
        return self.columns - 1

    def limit_row(self, row: int, lower: float, upper: float) -> None:
        """Change the limits of a row."""
        self._solver.changeRowBounds(row, lower, upper)

    def limit_column(self, column: int, lower: float, upper: float) -> None:
        """Change the limits of a column."""
        self._solver.changeColBounds(column, lower, upper)

    def set_cost(self, column: int, cost: float) -> None:
        """Change what one unit of a column costs."""
        self._solver.changeColCost(column, cost)

    def make_integer(self, columns: Sequence[int], *, integer: bool = True) -> None:
        """Whether these columns must be whole numbers."""
        change = self._integers.update if integer else self._integers.difference_update
        change(columns)
        for column in columns:
            self._solver.changeColIntegrality(column, self._integer_type if integer else self._continuous_type)

    def prefer(self, way: Literal["any", "interior point", "primal simplex", "dual simplex"]) -> None:
        """How linear programmes are solved from now on: primal goes on from added columns, dual from changed limits."""
        solver = {"any": "choose", "interior point": "ipm"}.get(way, "simplex")
        self._solver.setOptionValue("solver", solver)
        self._solver.setOptionValue("simplex_strategy", 4 if way == "primal simplex" else 1)

    def solve(
        self,
        *,
        limit_s: float = INFINITY,
        start: Mapping[int, float] | None = None,
        gap: float = 0.0,
        good_enough: float = -INFINITY,
        watch: Callable[[float, float], None] | None = None,
    ) -> Answer:
        """Solve what stands here now.

        Args:
            limit_s: seconds at most, >= 0.
            start: an answer to begin from, values by column; the solver fills in columns left out.
            gap: stop when value and bound are relatively this near, >= 0; integer programmes only.
            good_enough: stop at an answer of this value or less; integer programmes only.
            watch: called about once a second with the best value and the bound; what it raises stops the solver
                and is raised here.

        Returns:
            The answer; `seconds` then holds how long the solver took in all.

        Raises:
            whatever `watch` raised.

        Source: HiGHS, see the class.

        >>> programme = IntegerProgram()
        >>> row = programme.add_row(3.0, INFINITY)
        >>> column = programme.add_column(1.0, [(row, 2.0)], integer=True)
        >>> programme.solve().values
        (2.0,)
        """
        solver = self._solver
        # Seconds of linear programmes the solver counts on from solve to solve, of integer programmes anew each time.
        passed = 0.0 if self._integers else self.seconds
        solver.setOptionValue("time_limit", passed + max(0.0, limit_s))
        solver.setOptionValue("mip_rel_gap", gap)
        solver.setOptionValue("mip_abs_gap", 1e-9)
        solver.setOptionValue("objective_target", good_enough)
        if start is not None:
            solver.setSolution(len(start), list(start), list(start.values()))
        raised = self._run(watch)
        self.seconds = solver.getRunTime()
        if raised is not None:
            raise raised
        return self._answer()

    def _run(self, watch: Callable[[float, float], None] | None) -> BaseException | None:
        if watch is None:
            self._solver.run()
            return None
        raised: list[BaseException] = []
        last = [0.0]
        report = watch

        def between(event: highspy.HighsCallbackEvent) -> None:
            # An exception must not pass through the solver: it is kept, and the solver asked to stop.
            if raised:
                event.interrupt()
            elif event.data_out.running_time - last[0] >= 1.0:
                last[0] = event.data_out.running_time
                try:
                    report(event.data_out.mip_primal_bound, event.data_out.mip_dual_bound)
                except BaseException as error:
                    raised.append(error)
                    event.interrupt()

        self._solver.cbMipInterrupt.subscribe(between)
        try:
            self._solver.run()
        finally:
            self._solver.cbMipInterrupt.unsubscribe(between)
        return raised[0] if raised else None

    def _answer(self) -> Answer:
        solver, kinds = self._solver, self._statuses
        status, info, solution = solver.getModelStatus(), solver.getInfo(), solver.getSolution()
        whole = info.mip_node_count >= 0
        feasible = info.primal_solution_status == 2
        if status == kinds.kInfeasible or status == kinds.kUnboundedOrInfeasible:
            return Answer("infeasible", INFINITY, INFINITY, (), (), ())
        if status == kinds.kOptimal or (status == kinds.kModelEmpty):
            sentence: Status = "optimal"
        else:
            sentence = "feasible" if feasible else "unknown"
        value = info.objective_function_value if feasible or sentence == "optimal" else INFINITY
        values = tuple(solution.col_value) if feasible or sentence == "optimal" else ()
        bound = info.mip_dual_bound if whole else (value if sentence == "optimal" else -INFINITY)
        return Answer(sentence, value, bound, values, tuple(solution.row_dual), tuple(solution.col_dual))
