"""Gauss-Newton refinement of a few unknowns in plain Python, damped so that a step never makes matters worse."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

Residuals = Callable[[Sequence[float]], Sequence[float] | None]

_ROUNDS = 80
_FIRST_DAMPING = 1e-4
_MAX_DAMPING = 1e12


def refine(residuals: Residuals, start: Sequence[float], steps: Sequence[float]) -> tuple[float, ...]:
    """Unknowns near `start` at which the sum of the squared residuals is least.

    Args:
        residuals: the residuals for given unknowns, always as many; None where the unknowns mean nothing.
        start: a first guess, at which the residuals exist.
        steps: for each unknown the small step (> 0) by which its slopes are taken, in its own unit.

    Returns:
        The unknowns, in the units of `start`; never worse than the start.

    Raises:
        ValueError: no residuals at the start, or a step for each unknown is missing.

    Source: the Gauss-Newton method with Marquardt's damping; any text on least squares.

    >>> line = refine(lambda u: [u[0] + u[1] * x - (3 + 2 * x) for x in (0, 1, 2)], (0.0, 0.0), (1e-6, 1e-6))
    >>> [round(value, 6) for value in line]
    [3.0, 2.0]
    """
    if len(steps) != len(start):
        raise ValueError(f"{len(start)} unknowns need as many steps; {len(steps)} were given")
    unknowns = list(start)
    first = residuals(unknowns)
    if first is None:
        raise ValueError("the residuals do not exist at the start")
    here = list(first)
    cost = math.fsum(r * r for r in here)
    damping = _FIRST_DAMPING
    for _ in range(_ROUNDS):
        slopes = [_slope(residuals, unknowns, index, step, here) for index, step in enumerate(steps)]
        normal = [[_dot(a, b) for b in slopes] for a in slopes]
        pull = [-_dot(slope, here) for slope in slopes]
        stepped = False
        while damping < _MAX_DAMPING:
            move = solve(_damped(normal, damping), pull)
            trial = None if move is None else [u + m for u, m in zip(unknowns, move, strict=True)]
            there = None if trial is None else residuals(trial)
            if trial is not None and there is not None:
                new_cost = math.fsum(r * r for r in there)
                if new_cost < cost:
                    gained = cost - new_cost
                    unknowns, here, cost = trial, list(there), new_cost
                    damping = max(damping / 10, 1e-12)
                    stepped = gained > 1e-14 * cost
                    break
            damping *= 10
        if not stepped:
            break
    return tuple(unknowns)


def solve(matrix: Sequence[Sequence[float]], right: Sequence[float]) -> list[float] | None:
    """The unknowns of a small square system, by elimination with pivoting.

    Args:
        matrix: n rows of n figures. right: n figures.

    Returns:
        The n unknowns; None when the rows are not independent.

    Raises:
        nothing of its own.

    Source: Gaussian elimination.

    >>> solve([[2.0, 0.0], [1.0, 4.0]], [6.0, 7.0])
    [3.0, 1.0]
    """
    size = len(right)
    rows = [[*line, value] for line, value in zip(matrix, right, strict=True)]
    for column in range(size):
        pivot = max(range(column, size), key=lambda row: abs(rows[row][column]))
        if not abs(rows[pivot][column]) > 0 or not math.isfinite(rows[pivot][column]):
            return None
        rows[column], rows[pivot] = rows[pivot], rows[column]
        for row in range(column + 1, size):
            share = rows[row][column] / rows[column][column]
            for place in range(column, size + 1):
                rows[row][place] -= share * rows[column][place]
    values = [0.0] * size
    for row in range(size - 1, -1, -1):
        known = math.fsum(rows[row][place] * values[place] for place in range(row + 1, size))
        values[row] = (rows[row][size] - known) / rows[row][row]
    return values if all(math.isfinite(value) for value in values) else None


def _dot(a: Sequence[float], b: Sequence[float]) -> float:
    return math.fsum(x * y for x, y in zip(a, b, strict=True))


def _damped(normal: Sequence[Sequence[float]], damping: float) -> list[list[float]]:
    # A row of zeros (an unknown nothing hangs on) keeps a place of its own and then does not move.
    return [
        [value + (damping * value or damping if i == j else 0.0) for j, value in enumerate(row)]
        for i, row in enumerate(normal)
    ]


def _slope(
    residuals: Residuals, unknowns: Sequence[float], index: int, step: float, here: Sequence[float]
) -> list[float]:
    sides = []
    for sign in (1.0, -1.0):
        moved = list(unknowns)
        moved[index] += sign * step
        there = residuals(moved)
        sides.append((sign * step, here if there is None else there))
    (up, above), (down, below) = sides
    # At the edge of what the unknowns may be, one side stands still and the slope is taken to the other.
    run = (up if above is not here else 0.0) - (down if below is not here else 0.0)
    return [(a - b) / run if run else 0.0 for a, b in zip(above, below, strict=True)]
