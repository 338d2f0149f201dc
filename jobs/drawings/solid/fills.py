"""The faces of a standing wall, farthest first, so that what is nearer covers what is behind it."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from jobs.core.measure.curve import Point
from jobs.drawings.solid.edges import Edge
from jobs.drawings.solid.run import Hole, Run
from jobs.drawings.solid.sheet import DARKEST, Sheet, shaded
from jobs.drawings.solid.sides import Span


@dataclass(frozen=True)
class Fill:
    """opacity: of a shade."""

    path: str
    css: str = "face"
    opacity: float = 1.0


def fills(
    sheet: Sheet, bodies: Sequence[Run], caps: Sequence[Run], levels: int, edges: Sequence[Edge] = ()
) -> Iterable[Fill]:
    """levels: how many shades a face that turns through half a circle has.

    edges: drawn with their run, whole, to be covered by what is nearer; none where they are drawn afterwards.
    """
    of_run: dict[int, list[Edge]] = {}
    for edge in edges:
        of_run.setdefault(id(edge.run), []).append(edge)
    for index in farthest_first(bodies):
        for runs in (bodies, caps) if caps else (bodies,):
            run = runs[index]
            yield from _cuts(sheet, runs, index)
            yield from _of_run(sheet, run, levels, of_run.get(id(run), []))


def farthest_first(runs: Sequence[Run]) -> list[int]:
    """Order in which runs may cover one another: seen from above, none stands behind one before it.

    Runs are crossed at most once by a line of sight and do not cross, so that such an order exists.
    """
    left = list(range(len(runs)))
    behind = {i: {j for j in left if j != i and _is_before(runs[i], runs[j])} for i in left}
    order: list[int] = []
    while left:
        free = next((i for i in left if not behind[i] & set(left)), left[0])
        order.append(free)
        left.remove(free)
    return order


def _is_before(run: Run, other: Run) -> bool:
    """Whether the first may hide some of the second."""
    front, back = run.front or run.left, other.front or other.left
    low, high = max(front.reach[0], back.reach[0]), min(front.reach[1], back.reach[1])
    if high - low < 1e-6:
        return False
    middle = (low + high) / 2
    nearer, farther = front.y_at(middle), back.y_at(middle)
    return nearer is not None and farther is not None and nearer < farther


def _of_run(sheet: Sheet, run: Run, levels: int, edges: Sequence[Edge]) -> Iterable[Fill]:
    for left, right in _tops(run):
        yield Fill(sheet.top(run, left, right))
    yield from _strokes(sheet, edges, "far")
    if run.front is not None:
        yield Fill(sheet.band(run, run.front, (run.front.first, run.front.last)))
        for span, count in Counter(shaded(run.front, levels)).items():
            yield Fill(sheet.band(run, run.front, span), "shade", round(count * DARKEST / levels, 4))
    yield from _strokes(sheet, edges, "edge")


def _strokes(sheet: Sheet, edges: Sequence[Edge], weight: str) -> Iterable[Fill]:
    paths = [sheet.edge(edge, (0.0, 1.0)) for edge in edges if edge.weight == weight]
    if paths:
        yield Fill(" ".join(paths), weight)


def _tops(run: Run) -> list[tuple[Span, Span]]:
    """Spans of the top on both sides, openings that reach it left out."""
    left, right = run.left.first, run.right.first
    spans = []
    for hole in sorted((hole for hole in run.holes if hole.is_open), key=lambda hole: hole.left):
        spans.append(((left, hole.left[0]), (right, hole.right[0])))
        left, right = hole.left[1], hole.right[1]
    spans.append(((left, run.left.last), (right, run.right.last)))
    return [(start, other) for start, other in spans if start[1] - start[0] > 1e-9]


def _cuts(sheet: Sheet, runs: Sequence[Run], index: int) -> Iterable[Fill]:
    """Faces across the wall that the eye sees: its ends, steps of its top, the jambs of its openings."""
    run = runs[index]
    for end, share in ((0, run.first), (1, run.last)):
        sides = tuple((side.end if end else side.start) for side in run.sides)
        foot = _foot_of_cut(runs, index, end)
        if foot < run.top(share):
            yield from _cut(sheet, sides[0], sides[1], (foot, run.top(share)), 1 if end else -1)
    for hole in run.holes:
        for end in (0, 1):
            if hole.ends[end]:
                left, right = run.left.point(hole.left[end]), run.right.point(hole.right[end])
                yield from _cut(sheet, left, right, _levels(run, hole, end), -1 if end else 1)


def _foot_of_cut(runs: Sequence[Run], index: int, end: int) -> float:
    """From where on a run's end stands free: from its foot where the wall ends, else above what follows on."""
    run = runs[index]
    share = run.last if end else run.first
    if run.is_end if end else run.is_start:
        return run.foot(share)
    following = runs[(index + 1) % len(runs)] if end else runs[index - 1]
    return max(run.foot(share), following.top(following.first if end else following.last)) + 1e-3


def _levels(run: Run, hole: Hole, end: int) -> Span:
    share = (hole.left[end] + hole.right[end]) / 2
    return max(hole.sill, run.foot(share)), run.top(share) if hole.is_open else hole.head(share)


def _cut(sheet: Sheet, left: Point, right: Point, levels: Span, way: int) -> Iterable[Fill]:
    (x0, y0), (x1, y1) = left, right
    long = math.dist(left, right)
    # Square to the cut, out of the solid.
    out = -(y1 - y0) / long * way, (x1 - x0) / long * way
    if out[1] < -1e-9:
        path = sheet.quad([(x0, y0, levels[0]), (x1, y1, levels[0]), (x1, y1, levels[1]), (x0, y0, levels[1])])
        yield Fill(path)
        yield Fill(path, "shade", round(DARKEST * (1 + out[0]) / 2, 4))
