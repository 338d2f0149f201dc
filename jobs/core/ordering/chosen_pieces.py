"""Which of the pieces an order line stated are ordered again, and whether the wall still asks for them as they were."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from catalog.core.ground.refusal import InvalidValue
from jobs.core.ordering.line_pieces import pieces_kept
from jobs.core.ordering.order_lines import PIECE, OrderStatement, StatedRadius, StatedRun, counted_words


class ChosenPiecesError(InvalidValue):
    """A choice that cannot be; the message says what would be right."""


@dataclass(frozen=True)
class PieceKind:
    """Pieces that are alike: of one run and one length, or packs of one label. count: as stated."""

    wall: str
    run: str
    label: str
    length_mm: float | None
    radii: tuple[StatedRadius, ...]
    count: int


@dataclass(frozen=True)
class MovedRadius:
    """A radius that is another now than it was stated. now_mm: None where the wall has no such arc or run any more."""

    wall: str
    run: str
    piece: int
    side: str
    was_mm: float
    now_mm: float | None


def kinds_of(statement: OrderStatement) -> tuple[PieceKind, ...]:
    """The pieces of a statement, those alike together, in the order they are stated.

    statement: of an order line. Returns its kinds; none for what is bought by length, area or weight.

    >>> from jobs.core.ordering.order_lines import StatedPack
    >>> boards = OrderStatement("GB", "Board", Decimal(4), "sheets", (StatedPack("4 x 8 ft sheet", 4),))
    >>> [(kind.label, kind.count) for kind in kinds_of(boards)]
    [('4 x 8 ft sheet', 4)]
    """
    packs = tuple(PieceKind("", "", pack.label, None, (), pack.count) for pack in statement.packs)
    return packs + tuple(kind for run in statement.runs for kind in _kinds_of_run(run))


def _kinds_of_run(run: StatedRun) -> Iterator[PieceKind]:
    for length_mm, count in Counter(run.piece_lengths_mm).items():
        yield PieceKind(run.wall, run.run, "", length_mm, run.radii, count)


def chosen_of(statement: OrderStatement, counts: Sequence[int]) -> OrderStatement:
    """What a line states that orders only these pieces; all else of their runs stays as it was stated.

    Args:
        statement: of the whole line. counts: how many of each of `kinds_of`, each from zero to as many as there are.

    Returns:
        The statement of those pieces; runs and packs of which none is chosen are left out.

    Raises:
        ChosenPiecesError: more of a kind than was stated, or none at all.

    Source: own rule.

    >>> from jobs.core.ordering.order_lines import StatedPack
    >>> packs = (StatedPack("4 x 8 ft sheet", 4), StatedPack("4 x 10 ft sheet", 2))
    >>> chosen_of(OrderStatement("GB", "Board", Decimal(6), "sheets", packs), [1, 0]).packs
    (StatedPack(label='4 x 8 ft sheet', count=1),)
    """
    kinds = kinds_of(statement)
    if len(counts) != len(kinds) or any(
        not 0 <= count <= kind.count for count, kind in zip(counts, kinds, strict=False)
    ):
        most = ", ".join(str(kind.count) for kind in kinds)
        raise ChosenPiecesError(f"Choose of each kind at most as many as were ordered: {most}.")
    if not sum(counts):
        raise ChosenPiecesError("Choose at least one piece.")
    packs = tuple(replace(pack, count=count) for pack, count in zip(statement.packs, counts, strict=False) if count)
    left, runs = list(counts[len(statement.packs) :]), list[StatedRun]()
    for run in statement.runs:
        chosen: list[int] = []
        for kind in _kinds_of_run(run):
            alike = [nth for nth, length_mm in enumerate(run.piece_lengths_mm) if length_mm == kind.length_mm]
            chosen += alike[: left.pop(0)]
        if chosen:
            runs.append(pieces_kept(run, sorted(chosen)))
    unit = counted_words(PIECE, sum(counts)) if runs else statement.unit
    return replace(statement, quantity=Decimal(sum(counts)), unit=unit, packs=packs, runs=tuple(runs))


def moved_radii(chosen: OrderStatement, now: OrderStatement) -> tuple[MovedRadius, ...]:
    """The radii of chosen pieces that the wall has no more.

    chosen: as ordered. now: of the whole item as it stands. Returns each radius that differs, with both figures.

    >>> sheets = OrderStatement("GB", "Board", Decimal(4), "sheets")
    >>> moved_radii(sheets, sheets)
    ()
    """
    radii = {(run.wall, run.run): run for run in now.runs}
    return tuple(moved for run in chosen.runs for moved in _moved(run, radii.get((run.wall, run.run))))


def _moved(run: StatedRun, now: StatedRun | None) -> Iterator[MovedRadius]:
    present = {(radius.piece, radius.side, radius.measured_at): radius.radius_mm for radius in now.radii} if now else {}
    for entry in run.radii:
        now_mm = present.get((entry.piece, entry.side, entry.measured_at))
        if now_mm != entry.radius_mm:
            yield MovedRadius(run.wall, run.run, entry.piece, entry.side, entry.radius_mm, now_mm)


def is_still_stated(chosen: OrderStatement, now: OrderStatement) -> bool:
    """Whether every chosen piece is among those the item states now, made the same way.

    chosen: as ordered. now: of the whole item as it stands. Source: own rule.

    >>> sheets = OrderStatement("GB", "Board", Decimal(4), "sheets")
    >>> is_still_stated(sheets, sheets)
    True
    """
    runs = {(run.wall, run.run): run for run in now.runs}
    labels = {pack.label for pack in now.packs}
    if {pack.label for pack in chosen.packs} - labels or bool(chosen.runs) != bool(now.runs):
        return False
    return all(_is_run_stated(run, runs.get((run.wall, run.run))) for run in chosen.runs)


def _is_run_stated(run: StatedRun, now: StatedRun | None) -> bool:
    if now is None or Counter(run.piece_lengths_mm) - Counter(now.piece_lengths_mm):
        return False
    return set(run.radii) <= set(now.radii) and _made(run) == _made(now) and _are_bent_alike(run, now)


def _made(run: StatedRun) -> StatedRun:
    """How its pieces are made, whichever and however many they are."""
    return replace(run, piece_lengths_mm=(), splice_count=0, missing=(), pieces=(), radii=())


def _are_bent_alike(run: StatedRun, now: StatedRun) -> bool:
    """Whether each piece still follows what it did, where both say so."""
    stands = {piece.place: piece for piece in now.pieces}
    return all(not piece.curves or not stands or stands.get(piece.place) == piece for piece in run.pieces)


def same_pieces(chosen: OrderStatement, whole: OrderStatement, now: OrderStatement) -> OrderStatement | None:
    """The chosen pieces as the item states them now: each by its place in its run.

    Args:
        chosen: of the pieces of `whole`. whole: the line as it was ordered. now: the whole item as it stands.

    Returns:
        The same pieces with their lengths and radii of now; None where the runs have other numbers of pieces than they
        had, so that nobody can tell which is which.

    Raises:
        Nothing.

    Source: own rule.

    >>> sheets = OrderStatement("GB", "Board", Decimal(4), "sheets")
    >>> same_pieces(sheets, sheets, sheets) is None
    True
    """
    before, present = _by_name(whole), _by_name(now)
    runs = []
    for run in chosen.runs:
        was, stands = before.get((run.wall, run.run)), present.get((run.wall, run.run))
        if was is None or stands is None or len(was.piece_lengths_mm) != len(stands.piece_lengths_mm):
            return None
        places = [piece.place - 1 for piece in run.pieces] or _places(run.piece_lengths_mm, was.piece_lengths_mm)
        if places is None or max(places) >= len(stands.piece_lengths_mm):
            return None
        runs.append(pieces_kept(stands, places))
    return replace(now, quantity=chosen.quantity, unit=chosen.unit, packs=(), runs=tuple(runs)) if runs else None


def _by_name(statement: OrderStatement) -> dict[tuple[str, str], StatedRun]:
    return {(run.wall, run.run): run for run in statement.runs}


def _places(wanted: Sequence[float], among: Sequence[float]) -> list[int] | None:
    free, places = list(range(len(among))), []
    for length_mm in wanted:
        place = next((number for number in free if among[number] == length_mm), None)
        if place is None:
            return None
        free.remove(place)
        places.append(place)
    return places
