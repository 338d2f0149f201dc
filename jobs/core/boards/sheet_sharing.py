"""Faces of one job laid out together: joints face by face, sheets shared by all that carry the same board.

A sheet's off-cuts may serve another layer, another face and another wall, when they carry the same board, hung the
same way and bought in the same sizes. Nothing else is shared.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, product

from jobs.core.boards.board_search import BoardSearch, Chosen, HungLayer, Solution, Standing
from jobs.core.boards.boards import (
    BoardError,
    FacePlan,
    JobSheets,
    LaidFace,
    SheetGroups,
    counts_of,
    numbered_boards,
)
from jobs.core.cutting.sheet_cutting import METHODS, CutSheet, weight_of
from jobs.core.measure.curve import Face

MAX_WAYS = 8
"""More ways than this for the courses of all faces to lie are not all searched; nothing can then be proven."""


@dataclass(frozen=True)
class LaidJob:
    """Faces made ready for the search of all their joints at once.

    faces: each key and face once. groups: of sheets over all layers. ways: per search, which of the ways of each face
    it takes. searches: over all layers, one a way. complete: whether no way was left out.
    """

    faces: tuple[LaidFace, ...]
    groups: SheetGroups
    ways: tuple[tuple[int, ...], ...]
    searches: tuple[BoardSearch, ...]
    quick_solutions: tuple[tuple[BoardSearch, Solution], ...]
    complete: bool

    def quick(self) -> tuple[BoardSearch, Solution]:
        """The heuristic's joints of each face, cut together or face by face, whichever is lighter per group."""
        way = tuple(
            face.searches.index(search) for face, (search, _) in zip(self.faces, self.quick_solutions, strict=True)
        )
        search = self.searches[self.ways.index(way)]
        chosen = [choice for _, solution in self.quick_solutions for choice in solution.chosen]
        together = search.judge(chosen, [METHODS] * len(search.groups))
        apart = self._cut_apart()
        # A millionth: sums in another order must not look cheaper.
        sheets = [
            shared if weight_of(shared) < weight_of(other) * (1 - 1e-6) else other
            for shared, other in zip(together.sheets, apart, strict=True)
        ]
        weight = sum(weight_of(group) for group in sheets)
        standing = Standing(together.standing.faults, weight, together.standing.joint_mm)
        return search, Solution(chosen, sheets, together.methods, standing)

    def _cut_apart(self) -> list[list[CutSheet]]:
        sheets: list[list[CutSheet]] = [[] for _ in self.groups.kinds]
        passed = 0
        for face, (_, solution) in zip(self.faces, self.quick_solutions, strict=True):
            for item, cut in zip(face.groups.items, solution.sheets, strict=True):
                sheets[self.groups.items.index(item)] += [_moved(sheet, passed) for sheet in cut]
            passed += _board_count(solution.chosen)
        return sheets

    def plans(self, search: BoardSearch, solution: Solution) -> tuple[FacePlan, ...]:
        """Every face hung by the joints of a solution, its sheets cut for itself."""
        return tuple(
            face.finished(own, own.judge(chosen, [METHODS] * len(own.groups)))
            for face, own, chosen in self._parted(search, solution)
        )

    def sheets(self, search: BoardSearch, solution: Solution) -> JobSheets:
        """The sheets of a solution, shared by all faces, as `jobs.core.boards.boards.merge` gives them."""
        numbers: dict[int, int] = {}
        pieces: list[tuple[str, Face, int]] = []
        passed = 0
        for face, own, chosen in self._parted(search, solution):
            for number, (blank, *_) in enumerate(numbered_boards(own, chosen), 1):
                pieces.append((face.key, face.face, number))
                numbers[passed + blank] = len(pieces)
            passed += _board_count(chosen)
        return _job_sheets(self.groups, solution.sheets, numbers, tuple(pieces))

    def _parted(self, search: BoardSearch, solution: Solution) -> list[tuple[LaidFace, BoardSearch, list[Chosen]]]:
        """Per face: the search of its own that lies the same way, and its part of the solution."""
        way = self.ways[self.searches.index(search)]
        own = [face.searches[at] for face, at in zip(self.faces, way, strict=True)]
        ends = list(accumulate(len(search.runs) for search in own))
        return [
            (face, search, list(solution.chosen[end - len(search.runs) : end]))
            for face, search, end in zip(self.faces, own, ends, strict=True)
        ]


def lay_together(faces: Sequence[LaidFace], *, seed: int = 0, rounds: int | None = None) -> LaidJob:
    """Lay faces out together, each searched quickly by itself first.

    Args:
        faces: at least one, each key and face once. seed: of the search. rounds: of the quick search of each face,
            None for as many as its size calls for.

    Returns:
        The faces with one search over all of them for every way their courses may lie; when there are more than
        `MAX_WAYS`, only the way the quick search liked best.

    Raises:
        BoardError: no faces, or one given twice.

    Source: quantities merge over the walls of a job before rounding to packs (OURS).

    >>> lay_together([])
    Traceback (most recent call last):
        ...
    jobs.core.boards.boards.BoardError: there are no faces to plan: give at least one
    """
    names = [(face.key, face.face) for face in faces]
    if not faces:
        raise BoardError("faces", "there are no faces to plan: give at least one")
    for key, face in names:
        if names.count((key, face)) > 1:
            raise BoardError("faces", f"the {face} face of {key} is given {names.count((key, face))} times")
    quick = tuple(face.quick(rounds) for face in faces)
    groups = SheetGroups.of([(layer.board, layer.direction, layer.sheets) for face in faces for layer in face.layers])
    complete = math.prod(len(face.searches) for face in faces) <= MAX_WAYS
    liked = tuple(face.searches.index(search) for face, (search, _) in zip(faces, quick, strict=True))
    ways = tuple(product(*(range(len(face.searches)) for face in faces))) if complete else (liked,)
    searches = tuple(_search_of(faces, way, groups, seed) for way in ways)
    return LaidJob(tuple(faces), groups, ways, searches, quick, complete)


def _search_of(faces: Sequence[LaidFace], way: Sequence[int], groups: SheetGroups, seed: int) -> BoardSearch:
    if len(faces) == 1:
        return faces[0].searches[way[0]]
    layers: list[HungLayer] = []
    for number, (face, at) in enumerate(zip(faces, way, strict=True)):
        for hung in face.searches[at].layers:
            layers.append(replace(hung, group=groups.of_item[len(layers)], face=number))
    return BoardSearch(layers, groups.kinds, faces[0].searches[way[0]].rules, seed)


def _board_count(chosen: Sequence[Chosen]) -> int:
    return sum(len(cuts) - 1 for cuts in chosen)


def _moved(sheet: CutSheet, by: int) -> CutSheet:
    return replace(sheet, cuts=[(number + by, corner) for number, corner in sheet.cuts])


def _job_sheets(
    groups: SheetGroups,
    cut: Sequence[Sequence[CutSheet]],
    numbers: Mapping[int, int],
    pieces: tuple[tuple[str, Face, int], ...],
) -> JobSheets:
    bought = [groups.bought(group, sheet, numbers) for group, sheets in enumerate(cut) for sheet in sheets]
    bought.sort(key=lambda sheet: min(sheet.pieces))
    numbered = tuple(replace(sheet, number=n) for n, sheet in enumerate(bought, 1))
    return JobSheets(counts_of(numbered), numbered, pieces)
