"""Materials in the place of others on the walls of two jobs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from catalog.core.materials.specs import Material
from jobs.core.measure.curve import FACES
from jobs.core.measure.wall_spec import WallSpec


@dataclass(frozen=True)
class Swap:
    """One material where another was agreed. wall: its name. where: the part of the wall. original, replacement:
    names of materials."""

    wall: str
    where: str
    original: str
    replacement: str

    @property
    def sentence(self) -> str:
        """In words for the paper.

        >>> Swap("Screen", "base, desk side", "Base A", "Base B").sentence
        'Screen, base, desk side: Base B in place of Base A.'
        """
        return f"{self.wall}, {self.where}: {self.replacement} in place of {self.original}."


def is_named(name: str, text: str) -> bool:
    """Whether words typed by somebody name a material.

    name: of the material. text: as typed; letters' case and spaces make no difference. Source: own rule.

    >>> is_named("Base B", "the base  b, painted")
    True
    """
    wanted, words = (" ".join(entry.casefold().split()) for entry in (name, text))
    return bool(wanted) and wanted in words


def swaps_between(
    before: Iterable[WallSpec], after: Iterable[WallSpec], materials: Mapping[str, Material]
) -> tuple[Swap, ...]:
    """Materials that took another's place on walls that stand in both jobs.

    before, after: the walls. materials: by code, for their names. Returns the swaps wall by wall; a layer or a run
    of trim that is new or gone is none. Source: own rule.

    >>> swaps_between((), (), {})
    ()
    """
    was = {wall.key: wall for wall in before}
    return tuple(
        Swap(wall.name, where, _name(old, materials), _name(new, materials))
        for wall in after
        if wall.key in was
        for where, old, new in _pairs(was[wall.key], wall)
        if old != new
    )


def _pairs(old: WallSpec, new: WallSpec) -> Iterable[tuple[str, str, str]]:
    yield "track", old.track, new.track
    yield "studs", old.stud, new.stud
    for face in FACES:
        layers = zip(old.face(face).layers, new.face(face).layers, strict=False)
        for place, (was, now) in enumerate(layers, 1):
            yield f"{face} side, layer {place}", was.board, now.board
    runs = {(run.face, run.position, run.name): run for run in old.trims}
    for run in new.trims:
        known = runs.get((run.face, run.position, run.name))
        if known is not None:
            yield run.name, known.material, run.material


def _name(code: str, materials: Mapping[str, Material]) -> str:
    return materials[code].name if code in materials else code
