"""Cutting straight stock: which sticks to buy and what to cut from each, in exact whole numbers.

Lengths are kept in eightieths of a millimetre, the coarsest unit in which a sixteenth of an inch (127), a
millimetre (80) and a tenth of one (8) are all whole: pieces that add up to a stick on paper do so here too.
A computed length between two marks is rounded up for a piece and down for a stick: a plan is never short.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right, insort
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from itertools import accumulate
from typing import Literal, get_args

from catalog.core.ground.refusal import EntryError
from catalog.core.ground.units import TOLERANCE_MM, format_inches

GRAINS_PER_MM = 80
MAX_MM = 1e7
MAX_PIECES = 10_000
SEARCHED = "search through all plans found none better"
"""In the working of a plan that is best though its bound lies lower."""
Basis = Literal["price", "length"]
Method = Literal["first fit", "best fit"]
METHODS: tuple[Method, ...] = get_args(Method)


class CuttingError(EntryError):
    """Pieces or sticks that cannot be."""


class SticksRunOutError(CuttingError):
    """No way was found to cut everything from the counted sticks there are."""


def _more_than_zero(field: str, length_mm: float, what: str) -> None:
    if not (math.isfinite(length_mm) and 1 / GRAINS_PER_MM <= length_mm <= MAX_MM):
        raise CuttingError(field, f"{what} must be more than zero and at most 10 km; {length_mm:g} mm was given")


@dataclass(frozen=True)
class CutPiece:
    """A length that is needed. label: what it is for. length_mm: > 0. count: whole, >= 1."""

    label: str
    length_mm: float
    count: int = 1

    def __post_init__(self) -> None:
        _more_than_zero("length", self.length_mm, f"the length of {self.label}")
        if self.count < 1:
            raise CuttingError("count", f"{self.label}: the count must be 1 or more, not {self.count}")


@dataclass(frozen=True)
class Stock:
    """A stick to cut from. length_mm: > 0. price: money for one, None when not stated. count: at most so many
    (an off-cut on hand has price 0 and a count), None for as many as wanted."""

    code: str
    length_mm: float
    price: Decimal | None = None
    count: int | None = None

    def __post_init__(self) -> None:
        _more_than_zero("length", self.length_mm, f"the length of stick {self.code}")
        if self.price is not None and not (self.price.is_finite() and self.price >= 0):
            raise CuttingError("price", f"stick {self.code}: the price must be zero or more, not {self.price}")
        if self.count is not None and self.count < 0:
            raise CuttingError("count", f"stick {self.code}: the count must be zero or more, not {self.count}")


@dataclass(frozen=True)
class Cut:
    """One piece cut from a stick: label, start along the stick and length, mm."""

    label: str
    from_mm: float
    length_mm: float


@dataclass(frozen=True)
class Stick:
    """One stick and its cuts. leftover_mm: what remains after the last cut and its kerf, >= 0."""

    stock_code: str
    length_mm: float
    price: Decimal | None
    cuts: tuple[Cut, ...]
    leftover_mm: float


@dataclass(frozen=True)
class CutBound:
    """What no plan can beat: sticks (whole), cost (money rounded down, None while a price is missing) and, where it
    was worked out while a price is missing, length_mm bought."""

    sticks: int
    cost: Decimal | None
    method: str
    length_mm: float | None = None


@dataclass(frozen=True)
class CutPlan:
    """Sticks with their cuts.

    kerf_mm: lost at each cut. usable_offcut_mm: leftovers at least so long are worth keeping. basis: what was
    made least, the price or, while one is missing, the length bought. method: how it was found.
    working: the arithmetic in words, where there is any to show.
    """

    sticks: tuple[Stick, ...]
    kerf_mm: float
    usable_offcut_mm: float
    basis: Basis
    method: str
    bound: CutBound
    working: tuple[str, ...] = ()

    @property
    def cost(self) -> Decimal | None:
        """Money for all sticks, None while a price is missing."""
        prices = [stick.price for stick in self.sticks]
        return None if None in prices else sum((p for p in prices if p is not None), Decimal(0))

    @property
    def counts(self) -> tuple[tuple[str, int], ...]:
        """Stock code -> sticks used, in order of code."""
        codes = [stick.stock_code for stick in self.sticks]
        return tuple((code, codes.count(code)) for code in sorted(set(codes)))

    @property
    def leftovers(self) -> tuple[tuple[str, float], ...]:
        """(stock code, mm) of every leftover worth keeping, longest first."""
        offcuts = [(s.stock_code, s.leftover_mm) for s in self.sticks if 0 < s.leftover_mm >= self.usable_offcut_mm]
        return tuple(sorted(offcuts, key=lambda offcut: (-offcut[1], offcut[0])))


def plan_cuts(
    pieces: Sequence[CutPiece],
    stocks: Sequence[Stock],
    *,
    kerf_mm: float = 0.0,
    usable_offcut_mm: float = 0.0,
) -> CutPlan:
    """Plan uncut pieces, the longest first: the cheaper of the first-fit and the best-fit plan.

    Args:
        pieces: what is needed, at least one; no piece is spliced.
        stocks: what it can be cut from, at least one, codes different.
        kerf_mm: lost at every cut, mm, >= 0.
        usable_offcut_mm: leftovers at least so long are listed as worth keeping, mm, >= 0.

    Returns:
        The plan; equal to its own bound it is proven best, otherwise it is a good plan and no more. While a price is
        missing the length bought is made least instead, and `basis` says so.

    Raises:
        CuttingError: no pieces, no sticks, a figure out of range, a piece longer than every stick, or more
            pieces than the counted sticks hold.

    Source: Johnson 1973 for both rules, which stick to open is our own; the bound is Martello and Toth, *Knapsack
    Problems* (1990), ch. 8.

    >>> plan = plan_cuts([CutPiece("rail", 1400.0, 2), CutPiece("rail", 700.0)], [Stock("S28", 2800.0)])
    >>> len(plan.sticks), plan.bound.sticks
    (2, 2)
    """
    _check_lengths(kerf=kerf_mm, usable_offcut=usable_offcut_mm)
    stores = _stores(stocks)
    wanted = [(piece.label, grains_of_piece(piece.length_mm)) for piece in _checked(pieces) for _ in range(piece.count)]
    wanted.sort(key=lambda entry: -entry[1])
    _refuse_too_long(wanted, stores)
    kerf = grains_of_piece(kerf_mm)
    # Each rule of opening names the stick preferred, or none: then the one that fills best for its price.
    preferred: list[_Store | None] = [None, *(s for s in stores if s.stock.count is None and len(stores) > 1)]
    best: tuple[list[_Open], Method] | None = None
    for method in METHODS:
        for stock in preferred:
            opened = _fit_once(wanted, stores, kerf, stock, method)
            if opened is not None:
                opened = _cheapened(opened, stores)
                if best is None or _worth(opened) < _worth(best[0]):
                    best = (opened, method)
    if best is None:
        raise SticksRunOutError("stocks", _all_used(stores))
    bound = _bound([length for _, length in wanted], stores, kerf)
    return _plan(best[0], stores, kerf_mm, usable_offcut_mm, best[1], bound)


# --- whole-number workings ---------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Store:
    """A stock in grains, with its weight: price, or length while a price is missing, in whole parts of a unit."""

    stock: Stock
    length: int
    weight: int
    parts: int


@dataclass
class _Open:
    """A stick being cut: pieces so far and the grains taken by them and their kerfs."""

    store: _Store
    kerf: int
    cuts: list[tuple[str, int]] = field(default_factory=list)
    used: int = 0

    def cut(self, label: str, length: int) -> None:
        self.cuts.append((label, length))
        self.used += length + self.kerf

    @property
    def room(self) -> int:
        # The last piece needs no kerf when it ends the stick: room for it is the stick plus one kerf.
        return self.store.length + self.kerf - self.used


def grains_of_piece(length_mm: float) -> int:
    """A length that is needed (mm) in whole grains, rounded up.

    >>> grains_of_piece(25.4 / 16)
    127
    """
    # The tolerance keeps a length that is on a mark to within rounding on that mark.
    return math.ceil((length_mm - TOLERANCE_MM) * GRAINS_PER_MM)


def grains_of_stick(length_mm: float) -> int:
    """A length to cut from (mm) in whole grains, rounded down.

    >>> grains_of_stick(10.99 / 80)
    10
    """
    return math.floor((length_mm + TOLERANCE_MM) * GRAINS_PER_MM)


def mm_of_grains(grains: int) -> float:
    """Grains in mm.

    >>> mm_of_grains(127) * 16
    25.4
    """
    return grains / GRAINS_PER_MM


def _check_lengths(**lengths_mm: float) -> None:
    for name, value in lengths_mm.items():
        if not (math.isfinite(value) and 0 <= value <= MAX_MM):
            what = name.replace("_", " ")
            raise CuttingError(name, f"the {what} must be zero or more and at most 10 km; {value:g} mm was given")


def _checked(pieces: Sequence[CutPiece]) -> Sequence[CutPiece]:
    if not pieces:
        raise CuttingError("pieces", "there is nothing to cut: give at least one length")
    if sum(piece.count for piece in pieces) > MAX_PIECES:
        raise CuttingError("count", f"at most {MAX_PIECES} pieces can be planned at once; split the list")
    return pieces


def _stores(stocks: Sequence[Stock]) -> list[_Store]:
    if not stocks:
        raise CuttingError("stocks", "there is nothing to cut from: give at least one stick")
    codes = [stock.code for stock in stocks]
    for code in codes:
        if codes.count(code) > 1:
            raise CuttingError("stocks", f"the sticks need different codes; {code} is given {codes.count(code)} times")
    priced = _basis(stocks) == "price"
    lengths = [grains_of_stick(stock.length_mm) for stock in stocks]
    weights = [
        Fraction(stock.price if priced and stock.price is not None else length)
        for stock, length in zip(stocks, lengths, strict=True)
    ]
    # Whole numbers over one denominator: as exact as the fractions, and quick to compare.
    parts = math.lcm(*(weight.denominator for weight in weights))
    return [
        _Store(stock, length, int(weight * parts), parts)
        for stock, length, weight in zip(stocks, lengths, weights, strict=True)
    ]


def _basis(stocks: Sequence[Stock]) -> Basis:
    return "length" if any(stock.price is None for stock in stocks) else "price"


def _worth(opened: Sequence[_Open]) -> tuple[int, int, int]:
    """As `merit`, before the plan is written out."""
    longest_left = max([stick.store.length - stick.used for stick in opened])
    return sum([stick.store.weight for stick in opened]), len(opened), -max(0, longest_left)


def _refuse_too_long(wanted: list[tuple[str, int]], stores: list[_Store]) -> None:
    longest = max(stores, key=lambda store: store.length)
    label, length = wanted[0]
    if length > longest.length:
        too_long, most = mm_of_grains(length), mm_of_grains(longest.length)
        raise CuttingError(
            "length",
            f"{label} is {too_long:g} mm ({format_inches(too_long)}) long; the longest stick is "
            f"{longest.stock.code} at {most:g} mm ({format_inches(most)}): add a longer stick or allow splices",
        )


def _all_used(stores: list[_Store]) -> str:
    counted = ", ".join(f"{s.stock.count} of {s.stock.code}" for s in stores if s.stock.count is not None)
    return f"the sticks run out before all is cut: there are only {counted}; raise a count or add a stick"


def _fit_once(
    wanted: list[tuple[str, int]], stores: list[_Store], kerf: int, preferred: _Store | None, method: Method
) -> list[_Open] | None:
    opened: list[_Open] = []
    falling = [-length for _, length in wanted]
    rooms = _Rooms(method, wanted[-1][1] + kerf)
    # Nothing to choose where the stick preferred holds every piece and no stick on hand goes before it.
    fits_all = preferred is not None and preferred.length >= wanted[0][1]
    always = preferred if fits_all and all(store.stock.count is None for store in stores) else None
    for index, (label, length) in enumerate(wanted):
        at = rooms.take(length + kerf)
        if at is None:
            store = always or _next_stick(falling, index, stores, opened, kerf, preferred)
            if store is None:
                return None
            at = len(opened)
            opened.append(_Open(store, kerf))
        stick = opened[at]
        stick.cut(label, length)
        rooms.put(at, stick.room)
    return opened


class _Rooms:
    """What is left of the opened sticks and may still hold a piece. least: grains of the shortest piece and its kerf.

    First fit looks through the sticks in the order they were opened, best fit for the least that is enough.
    """

    def __init__(self, method: Method, least: int) -> None:
        self._by_room = method == "best fit"
        self._least = least
        self._rooms: list[tuple[int, int]] = []

    def take(self, need: int) -> int | None:
        """The number of the stick to cut from, taken out of these; None when none has room."""
        rooms = self._rooms
        if self._by_room:
            at = bisect_left(rooms, (need, -1))
            return rooms.pop(at)[1] if at < len(rooms) else None
        for at, (number, room) in enumerate(rooms):
            if room >= need:
                del rooms[at]
                return number
        return None

    def put(self, number: int, room: int) -> None:
        """Keep what is left of a stick, unless no piece is so short."""
        if room >= self._least:
            insort(self._rooms, (room, number) if self._by_room else (number, room))


def _next_stick(
    falling: list[int],
    index: int,
    stores: list[_Store],
    opened: list[_Open],
    kerf: int,
    preferred: _Store | None,
) -> _Store | None:
    fitting = [s for s in _available(stores, opened) if s.length >= -falling[index]]
    if not fitting:
        return None
    if preferred is not None:
        on_hand = [s for s in fitting if s.stock.count is not None]
        if not on_hand and any(s is preferred for s in fitting):
            return preferred
        fitting = on_hand or fitting
    best, *others = fitting
    if others:
        filled = _filled(falling, index, best, kerf)
        for store in others:
            # Weight for grains filled, compared crosswise to stay in whole numbers.
            fills = _filled(falling, index, store, kerf)
            mine = (store.weight * filled, store.length, store.stock.code)
            if mine < (best.weight * fills, best.length, best.stock.code):
                best, filled = store, fills
    return best


def _filled(falling: list[int], index: int, store: _Store, kerf: int) -> int:
    """Grains of pieces, from that one on, that go into an empty stick; falling: their lengths, negative."""
    room, filled = store.length + kerf, 0
    while (index := bisect_left(falling, kerf - room, index)) < len(falling):
        room += falling[index] - kerf
        filled -= falling[index]
        index += 1
    return filled


def _available(stores: list[_Store], opened: list[_Open]) -> list[_Store]:
    return [s for s in stores if s.stock.count is None or s.stock.count > _times(s, opened)]


def _times(store: _Store, opened: list[_Open]) -> int:
    return sum(1 for stick in opened if stick.store.stock.code == store.stock.code)


def _cheapened(opened: list[_Open], stores: list[_Store]) -> list[_Open]:
    """Each stick exchanged for the cheapest that holds its cuts and is still to be had."""
    cheapest_first = sorted(stores, key=lambda s: (s.weight, s.length, s.stock.code))
    limited = any(store.stock.count is not None for store in stores)
    taken = Counter(stick.store.stock.code for stick in opened) if limited else Counter()
    for stick in opened:
        need = stick.used - stick.kerf
        for store in cheapest_first:
            if store.weight >= stick.store.weight:
                break
            left = store.stock.count is None or store.stock.count > taken[store.stock.code]
            if left and store.length >= need:
                taken[stick.store.stock.code] -= 1
                taken[store.stock.code] += 1
                stick.store = store
                break
    return opened


# --- bounds and the finished plan --------------------------------------------------------------------------


def _bound(lengths: list[int], stores: list[_Store], kerf: int) -> CutBound:
    sizes = [length + kerf for length in lengths]
    longest = max(store.length for store in stores) + kerf
    continuous = -(-sum(sizes) // longest)
    sticks = max(continuous, _bound_by_large_pieces(sizes, longest))
    cost: Decimal | None = None
    if _basis([store.stock for store in stores]) == "price":
        exact = max(_cost_by_length(sum(sizes), stores, kerf), _cost_by_count(sticks, stores)) / stores[0].parts
        cost = Decimal(exact.numerator * 100 // exact.denominator).scaleb(-2)
    return CutBound(sticks, cost, "total length and pieces over half a stick (L2)")


def _bound_by_large_pieces(sizes: list[int], capacity: int) -> int:
    """Bound L2 of Martello and Toth, *Knapsack Problems* (1990), section 8.3: pieces too large to pair."""
    rising = sorted(sizes)
    sums = [0, *accumulate(rising)]
    count = len(rising)
    over_half = bisect_right(rising, capacity // 2)
    best = 0
    for small in {0, *rising[:over_half]}:
        alone_from = bisect_right(rising, capacity - small)
        alone, half = count - alone_from, alone_from - over_half
        rest = sums[over_half] - sums[bisect_left(rising, small)]
        over = rest - (half * capacity - (sums[alone_from] - sums[over_half]))
        best = max(best, alone + half + max(0, -(-over // capacity)))
    return best


def _cost_by_length(total: int, stores: list[_Store], kerf: int) -> Fraction:
    cost = Fraction(0)
    for store in sorted(stores, key=lambda s: Fraction(s.weight, s.length + kerf)):
        holds = store.length + kerf
        taken = total if store.stock.count is None else min(total, holds * store.stock.count)
        cost += Fraction(store.weight * taken, holds)
        total -= taken
    return cost


def _cost_by_count(sticks: int, stores: list[_Store]) -> Fraction:
    cost = Fraction(0)
    for store in sorted(stores, key=lambda s: s.weight):
        taken = sticks if store.stock.count is None else min(sticks, store.stock.count)
        cost += store.weight * taken
        sticks -= taken
    return cost


def _plan(
    opened: list[_Open],
    stores: list[_Store],
    kerf_mm: float,
    usable_mm: float,
    method: str,
    bound: CutBound,
) -> CutPlan:
    sticks = tuple(_stick(stick) for stick in opened)
    return CutPlan(sticks, kerf_mm, usable_mm, _basis([s.stock for s in stores]), method, bound)


def _stick(opened: _Open) -> Stick:
    cuts, at = [], 0
    for label, length in opened.cuts:
        cuts.append(Cut(label, mm_of_grains(at), mm_of_grains(length)))
        at += length + opened.kerf
    stock = opened.store.stock
    return Stick(
        stock.code,
        mm_of_grains(opened.store.length),
        stock.price,
        tuple(cuts),
        mm_of_grains(max(0, opened.store.length - at)),
    )


def merit(plan: CutPlan) -> tuple[Decimal, int, float]:
    """What makes one plan better than another, less being better: cost, then sticks, then the longest leftover.

    While a price is missing the length bought stands for the cost.

    >>> merit(plan_cuts([CutPiece("rail", 1000.0)], [Stock("S", 2800.0, Decimal(3))]))
    (Decimal('3'), 1, -1800.0)
    """
    cost = plan.cost if plan.basis == "price" else None
    bought = cost if cost is not None else Decimal(str(sum(stick.length_mm for stick in plan.sticks)))
    return bought, len(plan.sticks), -max(stick.leftover_mm for stick in plan.sticks)
