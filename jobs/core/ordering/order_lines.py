"""What one line of an order states, kept as a document that never changes its meaning, with a mark over all of it.

A line covers one material of one job. Of pieces made for a wall it states everything a maker must know; of what is
bought by the pack it states the packs. What nobody has said yet is a sentence, and such a line is not ready.
"""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import Annotated, Any

from catalog.core.ground.declared import As, Choice, Items, Kind, Number, Refs, Schema, Whole, read, write
from catalog.core.ground.document_reader import Reader
from catalog.core.materials.specs import Material
from jobs.core.takeoff.takeoff import Purchase
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.core.trim.trim import TrimPlan
from jobs.core.trim.trim_bend import Side
from jobs.core.trim.trim_order import MISSING, OrderData
from jobs.core.trim.trim_pieces import PieceCurve

PIECE = "piece"
PLACES = 3
"""Lengths are kept to a thousandth of a millimetre: finer than any maker works, coarser than a last bit."""
MAX_MM = 10_000_000.0
STATED_WITH_THE_LINE = frozenset({"need date"})
"""Stands on the order line, not in its statement: a day that moves changes nothing about the piece."""


MAX_PLACE = 5_000
Place = Annotated[int, Whole(0, MAX_PLACE), "Of the line on its order."]


@dataclass(frozen=True)
class StoredFigure(Kind):
    """A figure as it was kept: a number of JSON."""

    def read(self, reader: Reader, name: str) -> float:
        value = reader.raw(name)
        number = float(value) if isinstance(value, int | float | Decimal) and not isinstance(value, bool) else math.nan
        if not 0 <= number <= MAX_MM:
            raise reader.error(name, f"must be a number from 0 to {MAX_MM:,.0f}, not {value!r}")
        return number

    def schema(self, refs: Refs) -> Schema:
        return {"type": "number", "minimum": 0, "maximum": MAX_MM}


FromOne = Annotated[int, Whole(1, 10_000)]
Radius = Annotated[float, StoredFigure(), As(name="radius_mm")]
Lengths = Annotated[tuple[float, ...], Items(StoredFigure())]


@dataclass(frozen=True)
class StatedRadius:
    """One radius a maker is told. piece: of the wall, from 1. radius_mm, arc_length_mm: where `measured_at` says."""

    piece: FromOne
    side: Annotated[str, Choice(("concave", "convex"))]
    radius_mm: Radius
    measured_at: str
    arc_length_mm: Annotated[float, StoredFigure(), As(name="arc_length_mm")]


@dataclass(frozen=True)
class StatedMitre:
    """A cut at a kink of the wall. after_piece: from 1. cut_rad: off square. corner: inside, outside or flat."""

    after_piece: FromOne
    cut_rad: Annotated[float, StoredFigure(), As(name="cut_rad")]
    corner: str


@dataclass(frozen=True)
class StatedCurve:
    """What a piece follows on one piece of the wall, from 1: the radius at its back, 0 on a straight, over a length."""

    piece: FromOne
    side: Side
    radius_mm: Radius
    length_mm: Annotated[float, StoredFigure(), As(name="length_mm")]


@dataclass(frozen=True)
class StatedPiece:
    """Where one piece goes. place: in its run, from 1 at the start of the wall. curves: what it follows, in order."""

    place: FromOne
    curves: tuple[StatedCurve, ...] = ()

    @property
    def bends(self) -> tuple[tuple[str, float], ...]:
        """What a maker bends it to; pieces of other bends are not alike."""
        return tuple((curve.side, curve.radius_mm) for curve in self.curves if curve.radius_mm)


@dataclass(frozen=True)
class StatedRun:
    """One run of pieces made for one wall: all a maker is told of it. Lengths in mm.

    wall, run: their names. shape: true arc, or the template with its state. splices_allowed: None when nobody said.
    missing: names of what is not stated, keys of `trim_order.MISSING`. pieces: where each of piece_lengths_mm goes, in
    the same order; empty where that was not stated yet when it was ordered.
    """

    pieces: Annotated[tuple[StatedPiece, ...], As(left_out=True)] = field(default=(), kw_only=True)
    wall: str
    run: str
    profile: str
    size: Annotated[str, As(absent="")]
    grade: Annotated[str, As(absent="")]
    application: Annotated[str, As(absent="")]
    shape: str
    radii: tuple[StatedRadius, ...]
    piece_lengths_mm: Annotated[Lengths, As(name="piece_lengths_mm")]
    splice_count: Annotated[int, Whole(0, 10_000)]
    splices_allowed: bool | None
    straight_tails_mm: Annotated[Lengths, As(name="straight_tails_mm")]
    mitres: tuple[StatedMitre, ...]
    missing: Annotated[tuple[str, ...], As(aside=True)] = ()


@dataclass(frozen=True)
class StatedPack:
    """So many packs of one kind."""

    label: str
    count: Annotated[int, Whole(1, 1_000_000)]


@dataclass(frozen=True)
class OrderStatement:
    """All one line of an order states, kept as JSON; what is missing is no part: only what is complete is kept.

    Args:
        material: code of the catalog. what: the item as the supplier reads it. quantity: more than zero, None while
            the takeoff has a gap. unit: what it counts, "pieces" or the word for its packs. packs: what makes it up.
            runs: of pieces made for walls; empty for what is bought by the pack. splice: how its pieces are joined,
            in the words of the profile's card.

    Raises:
        ValueError: a quantity that is not more than zero.

    Source: trade rules on trim, what an order states.

    >>> boards = OrderStatement("GB", "Board", Decimal("4.0"), "sheet", (StatedPack("4 x 8 ft sheet", 4),))
    >>> boards.missing_sentences, len(boards.mark), write(boards)["quantity"]
    ((), 64, '4')
    >>> read_statement(write(boards)) == boards
    True
    """

    material: str
    what: str
    quantity: Annotated[Decimal | None, Number("0.000001")]
    unit: str
    packs: tuple[StatedPack, ...] = ()
    splice: str = field(default="", kw_only=True)
    runs: tuple[StatedRun, ...] = ()

    def __post_init__(self) -> None:
        if self.quantity is not None and not (self.quantity.is_finite() and self.quantity > 0):
            raise ValueError(f"{self.what}: an order line is of more than zero, not {self.quantity}")

    @property
    def missing_sentences(self) -> tuple[str, ...]:
        """What is not stated yet, each as a sentence with what would state it."""
        texts = [f"{run.wall}, {run.run}: {MISSING[name]}" for run in self.runs for name in run.missing]
        if self.quantity is None:
            texts.insert(0, f"{self.what}: the quantity is not known; fill the gaps of the takeoff.")
        return tuple(texts)

    @property
    def piece_lengths_mm(self) -> tuple[float, ...]:
        """The lengths of all pieces, run by run."""
        return tuple(value for run in self.runs for value in run.piece_lengths_mm)

    @property
    def radii(self) -> tuple[StatedRadius, ...]:
        """The radii of all runs, in the order they are stated."""
        return tuple(radius for run in self.runs for radius in run.radii)

    @property
    def mark(self) -> str:
        """A short text that changes with whatever the line states: SHA-256 of its document."""
        return mark_of(write(self))


def read_statement(document: Mapping[str, Any]) -> OrderStatement:
    """A statement as it was kept. Raises DocumentError naming the entry that is not as it is written."""
    return read(OrderStatement, Reader(document))


def mark_of(document: Mapping[str, Any]) -> str:
    """The mark of a statement kept as a document, but for where its pieces go: `states_the_same` looks at that too.

    document: of a statement. Returns 64 characters. Source: SHA-256, FIPS 180-4, over the document with its
    names in order.

    >>> mark_of({"a": 1, "b": 2}) == mark_of({"b": 2, "a": 1})
    True
    """
    runs = [{name: entry for name, entry in run.items() if name != "pieces"} for run in document.get("runs", ())]
    document = {**document, "runs": runs} if "runs" in document else document
    written = json.dumps(document, sort_keys=True, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
    return hashlib.sha256(written.encode()).hexdigest()


def states_the_same(states: Mapping[str, Any], now: Mapping[str, Any]) -> bool:
    """Whether a maker is told the same by two statements kept as documents.

    states, now: of statements. One stored before it was stated where pieces go is held against all else.
    Returns whether they agree. Source: own rule.

    >>> states_the_same({"quantity": "2", "runs": []}, {"quantity": "3", "runs": []})
    False
    """
    if mark_of(states) != mark_of(now):
        return False
    both = zip(states.get("runs", ()), now.get("runs", ()), strict=True)
    return all(
        not ours.get("pieces") or not theirs.get("pieces") or ours["pieces"] == theirs["pieces"]
        for ours, theirs in both
    )


def statement_of(material: Material, purchase: Purchase | None, walls: Sequence[WallWorkUp]) -> OrderStatement:
    """What a line for a material of a job states.

    Args:
        material: of the catalog. purchase: of the job's takeoff, None while there is none. walls: of the job, worked
            up, their templates said.

    Returns:
        With a run for each run of the material that is made for a wall; its quantity is then the number of pieces.

    Raises:
        Nothing.

    Source: trade rules on trim; that packs are counted, not what is in them, is our own rule.

    >>> statement_of(Material("S", "Stud", "stud", "stocked", "m", "stick", None), None, ()).missing_sentences
    ('Stud (S): the quantity is not known; fill the gaps of the takeoff.',)
    """
    plans = [(wall, plan) for wall in walls for plan in wall.trims if plan.run.material == material.code]
    runs = tuple(_run(wall, plan, plan.order) for wall, plan in plans if plan.order is not None)
    what = f"{material.name} ({material.code})"
    splice = material.profile.splice if material.profile else ""
    if runs:
        count = sum(len(run.piece_lengths_mm) for run in runs)
        unknown = count == 0 or any("number and lengths of pieces" in run.missing for run in runs)
        known = None if unknown else Decimal(count)
        return OrderStatement(material.code, what, known, counted_words(PIECE, count), (), runs, splice=splice)
    packs = tuple(StatedPack(pack.label, pack.count) for pack in purchase.packs if pack.count) if purchase else ()
    if packs:
        count = sum(pack.count for pack in packs)
        unit = counted_words(material.unit_bought, count)
        return OrderStatement(material.code, what, Decimal(count), unit, packs)
    buy = purchase.buy if purchase is not None and purchase.buy > 0 else None
    return OrderStatement(material.code, what, buy, material.unit_used)


def counted_words(word: str, count: int) -> str:
    """The word for what is counted: one sheet, two sheets.

    word: for one, as the catalog has it. count: 0 or more. Returns the word. Source: English spelling.

    >>> counted_words("box", 1), counted_words("box", 2), counted_words("stick", 3)
    ('box', 'boxes', 'sticks')
    """
    if count == 1 or not word or word.endswith(("s", ".")):
        return word
    return f"{word}{'es' if word.endswith(('x', 'ch', 'sh', 'z')) else 's'}"


def count_in_words(quantity: Decimal, unit: str) -> str:
    """So much of what an order line counts.

    quantity: 0 or more. unit: as the line has it, of several. Returns the words. Source: English spelling.

    >>> count_in_words(Decimal(1), "pieces"), count_in_words(Decimal("2.00"), "boxes")
    ('1 piece', '2 boxes')
    """
    figure = format(Decimal(quantity).normalize(), "f")
    if quantity != 1:
        return f"{figure} {counted_words(unit, 2)}"
    single = unit.removesuffix("es") if unit.endswith(("xes", "ches", "shes", "zes")) else unit.removesuffix("s")
    return f"{figure} {single}"


def part_of(statement: OrderStatement, quantity: Decimal) -> OrderStatement | None:
    """What a line states that orders less or more than is stated.

    Args:
        statement: of the whole. quantity: more than zero, in the unit of the statement.

    Returns:
        The statement of that many; None where what is stated is not all alike, so that nobody can tell which of it is
        meant.

    Raises:
        ValueError: a quantity that is not more than zero.

    Source: own rule.

    >>> boards = OrderStatement("GB", "Board", Decimal(4), "sheets", (StatedPack("4 x 8 ft sheet", 4),))
    >>> part_of(boards, Decimal(1)).packs
    (StatedPack(label='4 x 8 ft sheet', count=1),)
    >>> part_of(boards, Decimal(5)).packs[0].count
    5
    """
    if statement.quantity is None or quantity == statement.quantity:
        return replace(statement, quantity=quantity) if statement.quantity is None else statement
    if len(statement.packs) > 1 or len(statement.runs) > 1 or len(set(statement.piece_lengths_mm)) > 1:
        return None
    if any(len({piece.bends for piece in run.pieces}) > 1 for run in statement.runs):
        return None
    if (statement.packs or statement.runs) and quantity != quantity.to_integral_value():
        return None
    count = int(quantity)
    packs = tuple(replace(pack, count=count) for pack in statement.packs)
    if any(run.splice_count or run.straight_tails_mm or run.mitres for run in statement.runs):
        return None
    runs = tuple(
        replace(
            run,
            piece_lengths_mm=run.piece_lengths_mm[:1] * count,
            pieces=run.pieces[:count] if count <= len(run.pieces) else (),
        )
        for run in statement.runs
    )
    return replace(statement, quantity=quantity, packs=packs, runs=runs)


def _run(wall: WallWorkUp, plan: TrimPlan, order: OrderData) -> StatedRun:
    return StatedRun(
        wall.spec.name,
        plan.run.name,
        order.profile,
        order.size,
        order.grade,
        order.application,
        order.true_arc_or_template,
        tuple(
            StatedRadius(
                radius.piece_index + 1,
                radius.side,
                _mm(radius.radius_mm),
                radius.measured_at,
                _mm(radius.arc_length_mm),
            )
            for radius in order.radii
        ),
        tuple(_mm(value) for value in order.piece_lengths_mm),
        order.splice_count,
        order.splices_allowed,
        tuple(_mm(value) for value in order.straight_tails_mm),
        tuple(StatedMitre(mitre.after_piece + 1, round(mitre.cut_rad, 9), mitre.corner) for mitre in order.mitres),
        tuple(name for name in order.missing if name not in STATED_WITH_THE_LINE),
        pieces=tuple(
            StatedPiece(place, tuple(map(_curve, piece.curves))) for place, piece in enumerate(order.pieces, start=1)
        ),
    )


def _curve(curve: PieceCurve) -> StatedCurve:
    return StatedCurve(curve.piece_index + 1, curve.side, _mm(curve.radius_mm), _mm(curve.length_mm))


def _mm(length_mm: float) -> float:
    return round(length_mm, PLACES) + 0.0
