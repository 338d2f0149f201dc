"""Which parts of the edges are seen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from jobs.drawings.solid.edges import Edge
from jobs.drawings.solid.hiding import Scene
from jobs.drawings.solid.sides import RISE, Span

HALVINGS = 16
# Of a step: what is seen of less is a speck.
SLIVER = 0.1


@dataclass(frozen=True)
class SeenEdge:
    """An edge and the parts of it that are seen, from 0 to 1."""

    edge: Edge
    parts: tuple[Span, ...]


def seen_edges(scene: Scene, edges: Sequence[Edge], step_mm: float) -> list[SeenEdge]:
    """step_mm: between the places looked at first; where sight changes between two of them is found by halving."""
    return [SeenEdge(edge, _parts(scene, edge, step_mm)) for edge in edges]


def _parts(scene: Scene, edge: Edge, step_mm: float) -> tuple[Span, ...]:
    long = _length(edge)
    places = _places(scene, edge, max(4, min(60, int(long / step_mm))))
    seen = [_is_seen(scene, edge, part) for part in places]
    parts: list[Span] = []
    start = 0.0 if seen[0] else None
    for (a, b), (was, now) in zip(pairwise(places), pairwise(seen), strict=True):
        if was == now:
            continue
        at = _change(scene, edge, a, b, was)
        if now:
            start = at
        elif start is not None:
            parts.append((start, at))
            start = None
    if start is not None:
        parts.append((start, 1.0))
    least = min(0.5, step_mm * SLIVER / max(long, 1e-9))
    return tuple(part for part in parts if part[1] - part[0] > least)


def _length(edge: Edge) -> float:
    """About how long it is on the paper, in mm of wall."""
    (x0, y0, z0), (x1, y1, z1) = edge.at(0.0), edge.at(1.0)
    return abs(x1 - x0) + abs(z1 - z0 + RISE * (y1 - y0))


def _is_seen(scene: Scene, edge: Edge, part: float) -> bool:
    (x, y, z), (dx, dy, dz) = edge.at(part), edge.out(part)
    return not scene.is_hidden(x + dx, y + dy, z + dz)


def _places(scene: Scene, edge: Edge, count: int) -> list[float]:
    """Even steps, and a place to either side of wherever something begins or ends; never quite an end of the edge."""
    x0, x1 = edge.at(0.0)[0], edge.at(1.0)[0]
    places = {(n + 0.5) / count for n in range(count)} | {1e-5, 1 - 1e-5}
    if abs(x1 - x0) > 1.0:
        low, high = min(x0, x1), max(x0, x1)
        for x in scene.edges_x:
            if low < x < high:
                part = edge.part_at(x)
                places |= {part - 1e-4, part + 1e-4}
    return sorted(part for part in places if 0.0 < part < 1.0)


def _change(scene: Scene, edge: Edge, a: float, b: float, was: bool) -> float:
    for _ in range(HALVINGS):
        middle = (a + b) / 2
        if _is_seen(scene, edge, middle) == was:
            a = middle
        else:
            b = middle
    return (a + b) / 2
