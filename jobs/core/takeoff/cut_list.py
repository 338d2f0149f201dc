"""Sticks of one material over a whole job: what is to be cut, what from, and the plan a person chose for it.

A kept plan is used while the pieces, the sticks and their prices are what it was made for, and never without being
checked again.
"""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.declared import As, Declared, Items, Length, Money, Text, Whole
from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.specs import Material
from catalog.core.materials.standards import Standards
from jobs.core.boards.chosen_board_plan import BOUND_COST, COST, MADE_FOR, QUICK_COST
from jobs.core.cutting.cutting import (
    SEARCHED,
    Basis,
    Cut,
    CutBound,
    CutPiece,
    CutPlan,
    CuttingError,
    Stick,
    Stock,
    grains_of_piece,
    grains_of_stick,
)
from jobs.core.takeoff.wall_work_up import StickPiece, WallWorkUp

ON_HAND = "on hand"
SAME_MM = 0.02
"""A cut length and the length asked for this near are the same: lengths are cut in eightieths of a mm."""


@dataclass(frozen=True)
class OnHand:
    """Sticks or off-cuts of one length, or packs of one kind: of the firm's stock what is set aside for the job."""

    material: Annotated[str, Text(60), "Its code."]
    length_mm: Annotated[float | None, Length(), "Of each stick; null for a pack."]
    count: Annotated[int, Whole(1, 1000), "How many."]
    pack: Annotated[str, Text(60), "Code of the pack; needed where no length is given.", As(left_out=True)] = ""
    unit_cost: Annotated[
        Decimal | None,
        Money(two_places=True),
        "What the job is charged for one; null while not stated: then nothing is charged.",
        As(left_out=True),
    ] = None

    def __post_init__(self) -> None:
        if self.length_mm is None and not self.pack:
            raise CuttingError("length", f"{self.material}: give the length of a stick, or the pack of what is none")
        if self.length_mm is not None:
            Stock(self.material, self.length_mm, Decimal(0), self.count)
        if not 1 <= self.count <= 1000:
            raise CuttingError("count", f"{self.material}: from 1 to 1,000 sticks are on hand, not {self.count}")
        if self.unit_cost is not None and not (self.unit_cost.is_finite() and self.unit_cost >= 0):
            raise CuttingError("unit_cost", f"{self.material}: one costs zero or more, not {self.unit_cost}")


def sticks_on_hand(material: str, on_hand: Iterable[OnHand]) -> list[tuple[str, OnHand, float]]:
    """Sticks and off-cuts of a material: the code each has in a cut list, the entry, and its length in mm.

    material: code. on_hand: of the job, any material.

    >>> sticks_on_hand("S", [OnHand("S", 900.0, 2)])[0][0]
    'on hand 1'
    """
    mine = [(stock, stock.length_mm) for stock in on_hand if stock.material == material]
    return [
        (f"{ON_HAND} {n}", stock, mm) for n, (stock, mm) in enumerate(((o, m) for o, m in mine if m is not None), 1)
    ]


@dataclass(frozen=True)
class StickList:
    """What is to be cut of one material. pieces: at least one. stocks: for sale, and on hand at price 0.

    kerf_mm: lost at every cut; usable_offcut_mm: leftovers at least so long are worth keeping; both mm, >= 0.
    """

    material: str
    pieces: tuple[CutPiece, ...]
    stocks: tuple[Stock, ...]
    kerf_mm: float
    usable_offcut_mm: float

    @property
    def mark(self) -> str:
        """A short text that changes with whatever the plan of these sticks rests on.

        >>> one, other = (StickList("S", (CutPiece("rail", 700.0, n),), (), 0.0, 0.0).mark for n in (1, 2))
        >>> len(one), one == other
        (64, False)
        """
        wanted: Counter[tuple[str, int]] = Counter()
        for piece in self.pieces:
            wanted[piece.label, grains_of_piece(piece.length_mm)] += piece.count
        prices = {stock.code: None if stock.price is None else str(stock.price.normalize()) for stock in self.stocks}
        stocks = [
            (stock.code, grains_of_stick(stock.length_mm), prices[stock.code], stock.count) for stock in self.stocks
        ]
        lengths = (round(self.kerf_mm, 6), round(self.usable_offcut_mm, 6))
        figures = (self.material, sorted(wanted.items()), sorted(stocks, key=lambda stock: stock[0]), lengths)
        return hashlib.sha256(repr(figures).encode()).hexdigest()


def stocks_of(material: Material, on_hand: Iterable[OnHand], on_day: date) -> tuple[Stock, ...]:
    """What the pieces of a material can be cut from.

    Args:
        material: with its packs. on_hand: of the job, any material. on_day: whose prices hold.

    Returns:
        Sticks for sale (those with a price where any has one), then what is on hand: price 0, so many of each.

    Source: OURS; what lies in the yard costs nothing more.

    >>> stud = Material("S", "Stud", "stud", "stocked", "m", "stick", None)
    >>> stocks_of(stud, [OnHand("S", 900.0, 2)], date(2026, 5, 4))
    (Stock(code='on hand 1', length_mm=900.0, price=Decimal('0'), count=2),)
    """
    sticks = [pack for pack in material.packs if pack.length_mm is not None]
    priced = [pack for pack in sticks if pack.price_on(on_day) is not None]
    sold = []
    for pack in priced or sticks:
        price = pack.price_on(on_day)
        sold.append(Stock(pack.code, pack.length_mm or 0.0, price.amount if price else None))
    mine = sticks_on_hand(material.code, on_hand)
    return (*sold, *(Stock(code, length_mm, Decimal(0), stock.count) for code, stock, length_mm in mine))


def cutting_figures(standards: Standards) -> tuple[float, float] | None:
    """Width of a saw cut and least length of an off-cut worth keeping, mm; None while the firm states either not.

    >>> from catalog.core.materials.standards import starter_standards
    >>> cutting_figures(starter_standards())
    (3.175, 304.8)
    """
    kerf, usable = standards.fact("saw_kerf_mm"), standards.fact("usable_offcut_mm")
    return None if kerf is None or usable is None else (kerf.number, usable.number)


def stick_list(
    material: Material, sticks: Sequence[StickPiece], standards: Standards, on_hand: Iterable[OnHand], on_day: date
) -> StickList | None:
    """What is to be cut of one material over the whole job; None while the firm does not say how it saws.

    Args:
        material: with its packs, at least one of them with a length. sticks: pieces of it, of all walls. standards:
            the firm's. on_hand: of the job, any material. on_day: whose prices hold.

    Source: OURS.

    >>> from catalog.core.materials.standards import Standards
    >>> stick_list(Material("S", "Stud", "stud", "stocked", "m", "stick", None), [], Standards({}, ()), [], date.min)
    """
    figures = cutting_figures(standards)
    if figures is None:
        return None
    pieces = tuple(CutPiece(stick.label, stick.length_mm, stick.count) for stick in sticks)
    return StickList(material.code, pieces, stocks_of(material, on_hand, on_day), *figures)


# --- the plan a person chose --------------------------------------------------------------------------------


@dataclass(frozen=True)
class KeptStickCut:
    """One piece, in the order it is cut."""

    label: Annotated[str, Text(500), "What the piece is for."]
    length_mm: Annotated[float, Length(), "Its length."]


@dataclass(frozen=True)
class KeptStick:
    """Sticks cut alike."""

    stock: Annotated[str, Text(60), "Code of the pack, or of what is on hand."]
    count: Annotated[int, Whole(1, 10_000), "How many."]
    cuts: Annotated[tuple[KeptStickCut, ...], "What is cut from it.", As(absent=())]


@dataclass(frozen=True)
class KeptStickPlan:
    """Sticks of one material and what is cut from each."""

    material: Annotated[str, Text(60), "Code of the material."]
    mark: Annotated[str, Text(64), MADE_FOR]
    cost: Annotated[Decimal | None, Money(), COST]
    quick_cost: Annotated[Decimal | None, Money(), QUICK_COST]
    bound_cost: Annotated[Decimal | None, Money(), BOUND_COST]
    bound_sticks: Annotated[int, Whole(0, 100_000), "Sticks none can do with fewer than."]
    method: Annotated[str, Text(200), "How the bound was found.", As(name="bound_by", absent="")]
    found_by: Annotated[str, Text(200), "How the plan was found.", As(absent="")]
    working: Annotated[tuple[str, ...], "What is proven, in words.", As(absent=())]
    sticks: Annotated[tuple[KeptStick, ...], "Sticks cut alike, together.", As(absent=())]

    @property
    def gap(self) -> float | None:
        """Cost above the least as a share of it, nothing where all plans were searched; None while it is not known."""
        if any(SEARCHED in sentence for sentence in self.working):
            return 0.0
        if self.cost is None or not self.bound_cost:
            return 0.0 if self.cost is not None and self.cost == self.bound_cost else None
        return max(0.0, float(self.cost / self.bound_cost) - 1)


@dataclass(frozen=True)
class KeptSticks:
    """Stick plans that a person chose, one a material."""

    by: Annotated[str, Text(200), "Who chose them."] = field(default="", kw_only=True)
    on: Annotated[date | None, "When."] = field(default=None, kw_only=True)
    plans: Annotated[tuple[KeptStickPlan, ...], Items(Declared(KeptStickPlan), 200), "One a material.", As(absent=())]

    def plan(self, material: str) -> KeptStickPlan | None:
        """The plan of a material, None when it has none."""
        return next((plan for plan in self.plans if plan.material == material), None)


def keep_sticks(wanted: StickList, plan: CutPlan, quick: CutPlan) -> KeptStickPlan:
    """A plan as it is kept.

    Args:
        wanted: what it is for. plan: the one found. quick: the quick plan beside it.

    Returns:
        The plan, sticks cut alike counted together.

    Source: OURS.

    >>> wanted = StickList("S", (CutPiece("rail", 700.0, 8),), (Stock("S28", 2800.0, Decimal(4)),), 0.0, 0.0)
    >>> from jobs.core.cutting.cutting import plan_cuts
    >>> plan = plan_cuts(wanted.pieces, wanted.stocks)
    >>> [(one.stock, one.count) for one in keep_sticks(wanted, plan, plan).sticks]
    [('S28', 2)]
    """
    alike = Counter(
        (stick.stock_code, tuple(KeptStickCut(cut.label, round(cut.length_mm, 4)) for cut in stick.cuts))
        for stick in plan.sticks
    )
    return KeptStickPlan(
        wanted.material,
        wanted.mark,
        plan.cost,
        quick.cost,
        plan.bound.cost,
        plan.bound.sticks,
        plan.bound.method,
        plan.method,
        plan.working,
        tuple(KeptStick(stock, count, cuts) for (stock, cuts), count in alike.items()),
    )


def plan_by_kept(wanted: StickList, chosen: KeptStickPlan) -> tuple[CutPlan | None, tuple[str, ...]]:
    """A kept plan as a cut plan again.

    Args:
        wanted: what is to be cut now. chosen: the plan of that material.

    Returns:
        The plan, and what the check finds wrong with it, in words; None with no words when it was made for other
        pieces, sticks or prices.

    Source: OURS.

    >>> wanted = StickList("S", (CutPiece("rail", 700.0),), (Stock("S28", 2800.0),), 0.0, 0.0)
    >>> plan_by_kept(wanted, KeptStickPlan("S", "other", None, None, None, 0, "", "", (), ()))
    (None, ())
    """
    if chosen.mark != wanted.mark:
        return None, ()
    stocks = {stock.code: stock for stock in wanted.stocks}
    strange = [stick.stock for stick in chosen.sticks if stick.stock not in stocks]
    if strange:
        return None, tuple(f"a stick {code} is not available" for code in strange)
    sticks = tuple(
        _stick(stick, stocks[stick.stock], wanted.kerf_mm) for stick in chosen.sticks for _ in range(stick.count)
    )
    basis: Basis = "length" if any(stock.price is None for stock in wanted.stocks) else "price"
    bound = CutBound(chosen.bound_sticks, chosen.bound_cost, chosen.method)
    plan = CutPlan(sticks, wanted.kerf_mm, wanted.usable_offcut_mm, basis, chosen.found_by, bound, chosen.working)
    return plan, check_cuts(plan, wanted)


def _stick(chosen: KeptStick, stock: Stock, kerf_mm: float) -> Stick:
    cuts, at = [], 0.0
    for cut in chosen.cuts:
        cuts.append(Cut(cut.label, round(at, 4), cut.length_mm))
        at += cut.length_mm + kerf_mm
    return Stick(stock.code, stock.length_mm, stock.price, tuple(cuts), round(max(0.0, stock.length_mm - at), 4))


def check_cuts(plan: CutPlan, wanted: StickList) -> tuple[str, ...]:
    """Check a cut plan against what is to be cut, by plain sums that share nothing with the planner.

    Args:
        plan: of one material. wanted: what is to be cut, and what from.

    Returns:
        Everything wrong, in words: pieces missing or too many, sticks cut longer than they are, more taken from the
        yard than lies there. Empty when the plan is sound.

    Source: plain arithmetic: the pieces of a stick and a saw cut between each two fit its length.

    >>> wanted = StickList("S", (CutPiece("rail", 700.0),), (Stock("S28", 2800.0),), 0.0, 0.0)
    >>> check_cuts(CutPlan((), 0.0, 0.0, "length", "", CutBound(0, None, "")), wanted)
    ('rail of 700.00 mm is cut 0 times, not 1',)
    """
    left: dict[str, list[float]] = {}
    for piece in wanted.pieces:
        left.setdefault(piece.label, []).extend([piece.length_mm] * piece.count)
    cut: dict[str, list[float]] = {}
    for stick in plan.sticks:
        for cut_piece in stick.cuts:
            cut.setdefault(cut_piece.label, []).append(cut_piece.length_mm)
    return (*_pieces_wrong(left, cut), *_sticks_wrong(plan, {stock.code: stock for stock in wanted.stocks}))


def _pieces_wrong(left: Mapping[str, list[float]], cut: Mapping[str, list[float]]) -> Iterable[str]:
    for label in sorted({*left, *cut}):
        needed, made = sorted(left.get(label, [])), sorted(cut.get(label, []))
        if len(needed) != len(made):
            size = (needed or made)[0]
            yield f"{label} of {size:.2f} mm is cut {len(made)} times, not {len(needed)}"
        elif any(not -SAME_MM / 2 <= has - wants <= SAME_MM for wants, has in zip(needed, made, strict=True)):
            yield f"{label} is cut at another length than needed"


def _sticks_wrong(plan: CutPlan, stocks: Mapping[str, Stock]) -> Iterable[str]:
    for number, stick in enumerate(plan.sticks, 1):
        stock = stocks.get(stick.stock_code)
        if stock is None or abs(stock.length_mm - stick.length_mm) > SAME_MM:
            yield f"stick {number}, {stick.stock_code}, is not available"
            continue
        need = sum(cut.length_mm for cut in stick.cuts) + plan.kerf_mm * (len(stick.cuts) - 1)
        if need > stock.length_mm + SAME_MM:
            yield f"stick {number}: {need:.2f} mm are cut from {stock.length_mm:.2f} mm"
    used = Counter(stick.stock_code for stick in plan.sticks)
    for code, stock in stocks.items():
        if stock.count is not None and used[code] > stock.count:
            yield f"{used[code]} of {code} are used, and {stock.count} are there"


def quick_and_kept(plans: Sequence[KeptStickPlan]) -> tuple[Decimal | None, Decimal | None]:
    """Cost of all materials by the quick plans and by these, money; None while one is not known.

    >>> quick_and_kept([])
    (Decimal('0'), Decimal('0'))
    """
    return _sum([plan.quick_cost for plan in plans]), _sum([plan.cost for plan in plans])


def _sum(costs: Sequence[Decimal | None]) -> Decimal | None:
    known = [cost for cost in costs if cost is not None]
    return sum(known, Decimal(0)) if len(known) == len(costs) else None


def stick_lists(
    walls: Sequence[WallWorkUp], book: Catalog, on_hand: Sequence[OnHand], on_day: date
) -> tuple[StickList, ...]:
    """What is to be cut of every material of a job that is bought in sticks: studs, trim, and track run by run.

    Args:
        walls: worked up. book: the catalog. on_hand: of the job. on_day: whose prices hold.

    Returns:
        One list a material, in the order the walls name them; what is made to length has none.

    Source: OURS.

    >>> from catalog.core.materials.specs import Firm
    >>> from catalog.core.materials.standards import starter_standards
    >>> stick_lists([], Catalog(Firm("F", "Etc/UTC", "EUR", "metric", 3, 5), starter_standards()), [], date(2026, 5, 4))
    ()
    """
    by_material: dict[str, list[StickPiece]] = {}
    for wall in walls:
        for piece in (*wall.sticks, *wall.track_sticks):
            by_material.setdefault(piece.material, []).append(piece)
    stocks = []
    for code, pieces in by_material.items():
        material = book.materials.get(code)
        if material is not None and any(pack.length_mm is not None for pack in material.packs):
            stocks.append(stick_list(material, pieces, book.standards, on_hand, on_day))
    return tuple(material for material in stocks if material is not None)


def not_planned(walls: Sequence[WallWorkUp], book: Catalog) -> tuple[str, ...]:
    """Materials of a job no stick plan covers, for nothing is cut from sticks of them.

    Args:
        walls: worked up. book: the catalog.

    Returns:
        Codes of trim and track sold by length only: a maker cuts every piece to the length ordered, or track is
        counted by its length.

    Source: OURS.

    >>> from catalog.core.materials.specs import Firm
    >>> from catalog.core.materials.standards import starter_standards
    >>> not_planned([], Catalog(Firm("F", "Etc/UTC", "EUR", "metric", 3, 5), starter_standards()))
    ()
    """
    used = [code for wall in walls for code in (wall.spec.track, *(piece.material for piece in wall.sticks))]
    known = [book.materials[code] for code in dict.fromkeys(used) if code in book.materials]
    return tuple(
        material.code for material in known if material.packs and all(pack.length_mm is None for pack in material.packs)
    )
