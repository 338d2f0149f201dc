"""Which decisions go with what they were taken about, where a wall is built another way."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from jobs.core.measure.curve import FACES
from jobs.core.measure.findings import Override
from jobs.core.measure.wall_spec import WallSpec


def touched(old: WallSpec, new: WallSpec) -> Iterable[str]:
    """Beginnings of the keys of checks and lines that are about what is changed."""
    for face in FACES:
        before, after = old.face(face), new.face(face)
        if before.layers != after.layers:
            yield f"{old.key}/{face}/"
        elif before.level != after.level:
            # Boards and their bends are as they were; compound, tape and bead of the face are not.
            yield from (f"{old.key}/{face}/{kind}" for kind in ("compound", "tape", "bead", "bead_fastener"))
    for number, (was, now) in enumerate(zip(old.trims, new.trims, strict=True), 1):
        if was != now or old.face(was.face).layers != new.face(now.face).layers:
            yield f"{old.key}/trim-{number}"


def is_about(decision: Override, touched: Iterable[str]) -> bool:
    return any(
        decision.key == start.rstrip("/") or decision.key.startswith(f"{start.rstrip('/')}/") for start in touched
    )


def without_decisions(old: WallSpec, new: WallSpec) -> WallSpec:
    """The wall built anew without the decisions about what is changed of it.

    >>> from jobs.core.measure.dimension_holds import _example
    >>> without_decisions(_example(), _example()) == _example()
    True
    """
    keys = tuple(touched(old, new))
    return replace(new, overrides=tuple(one for one in new.overrides if not is_about(one, keys)))
