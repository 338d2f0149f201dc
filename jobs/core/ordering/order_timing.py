"""One item before its field check: order it now, wait for the check, or wait and have it rushed.

Each way has the day it would be usable, the days in hand it leaves, how likely a piece made to the radius as it is
known today fits the wall as it stands, and what it costs besides its price.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time
from decimal import Decimal
from typing import Literal

from catalog.core.ground.money import to_cents
from catalog.core.ground.units import TOLERANCE_MM, System, format_measure
from catalog.core.ground.workdays import WorkCalendar
from catalog.core.leads.lead_times import LeadTerm
from catalog.core.leads.order_terms import OrderTerms
from jobs.core.measure.brought_in import is_open
from jobs.core.measure.dimension_holds import every_dimension
from jobs.core.measure.radius_readings import RadiusBand
from jobs.core.ordering.order_by import Arrival, OrderDateError, arrival, days_in_hand, order_by, workdays_late
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.core.trim.trim_pieces import MADE_FORMS

Way = Literal["now", "wait", "rush"]
Fit = Literal["fits", "may_miss", "will_miss", "not_known"]
WAY_WORDS: dict[Way, str] = {
    "now": "Order now",
    "wait": "Wait for the field check",
    "rush": "Wait, then rush",
}
_WORST: tuple[Fit, ...] = ("will_miss", "not_known", "may_miss", "fits")


@dataclass(frozen=True)
class RadiusFit:
    """Whether a piece made to a radius fits a wall whose radius is known by its band only.

    what: the run and piece, in words. chance: that it fits, 0 to 1, None where band or tolerance is not known.
    """

    what: str
    fit: Fit
    chance: float | None
    sentence: str


@dataclass(frozen=True)
class OrderChoice:
    """One way of ordering the item.

    Args:
        order_day: the day it would be ordered, None while not known. arrives: None while something is missing.
            days_in_hand: the firm's working days from then to the order-by day of this way. late_workdays: after the
            day of need, 0 or more. fit: of its radii, the worst. chance: that every piece fits. extra: fees in money,
            None while not stated. remake: what a remake would cost on average, price times the chance of a miss; None
            where either is not known. gaps: what is missing, as sentences.

    Source: own rule.
    """

    way: Way
    order_day: date | None
    arrives: Arrival | None
    days_in_hand: int | None
    late_workdays: int | None
    fit: Fit
    chance: float | None
    risk: str
    extra: Decimal | None
    remake: Decimal | None
    gaps: tuple[str, ...] = ()

    @property
    def usable(self) -> date | None:
        return self.arrives.usable if self.arrives else None

    @property
    def label(self) -> str:
        return WAY_WORDS[self.way]

    @property
    def expected_cost(self) -> Decimal | None:
        """Fees and the average cost of a remake, money; None where either is not known."""
        return None if self.extra is None or self.remake is None else self.extra + self.remake


@dataclass(frozen=True)
class ItemToOrder:
    """An item before its field check.

    need_by: None while not known. term: the supplier's lead term in force, None where nobody stated one. terms: of
    the supplier, for its rush. price: of the item in money, None while not known. cushion_workdays,
    sign_off_workdays: of the firm. fits: of its radii. check_on: the day the field check can confirm them, None while
    the job has no days. is_checked: whether it already did.
    """

    need_by: date | None
    term: LeadTerm | None
    terms: OrderTerms | None
    price: Decimal | None
    cushion_workdays: int
    sign_off_workdays: int
    fits: tuple[RadiusFit, ...] = ()
    check_on: date | None = None
    is_checked: bool = False


def radius_fit(
    what: str,
    radius_mm: float,
    band: RadiusBand | None,
    flex_inside_mm: float | None,
    flex_outside_mm: float | None,
    system: System,
) -> RadiusFit:
    """Whether a piece made to a radius would fit, for all radii the measurement allows.

    Args:
        what: in words. radius_mm: it is made to, mm, > 0. band: of the wall on the same line, None while not known.
            flex_inside_mm, flex_outside_mm: how much tighter and easier the piece may be flexed, mm, >= 0, None where
            nobody stated it. system: of the words.

    Returns:
        "fits" when the whole band lies within what it flexes to, "will_miss" when none of it does, "may_miss"
        between. The chance takes radii to be likeliest at the best one and to fall off evenly to either end of the
        band; without an upper end there is none.

    Raises:
        ValueError: a radius or a tolerance that cannot be.

    Source: own rule; a triangular distribution is the usual one where only least, likeliest and greatest are known
        (common practice).

    >>> found = radius_fit("Base", 1000.0, RadiusBand(950.0, 1000.0, 1050.0), 25.0, 50.0, "metric")
    >>> found.fit, round(found.chance, 3)
    ('may_miss', 0.875)
    """
    if not (math.isfinite(radius_mm) and radius_mm > 0):
        raise ValueError(f"{what}: a piece is made to a radius of more than zero, not {radius_mm}")
    if band is None:
        message = f"{what}: how well its radius is known is not stated; enter the accuracy of the tape."
        return RadiusFit(what, "not_known", None, message)
    if flex_inside_mm is None or flex_outside_mm is None:
        message = f"{what}: how far a piece made to a radius may be flexed is not stated; enter it with the profile."
        return RadiusFit(what, "not_known", None, message)
    if flex_inside_mm < 0 or flex_outside_mm < 0:
        raise ValueError(f"{what}: a piece flexes by zero or more, not {flex_inside_mm} and {flex_outside_mm}")
    low_mm, high_mm = radius_mm - flex_inside_mm, radius_mm + flex_outside_mm
    span = f"{format_measure(max(low_mm, 0.0), system)} to {format_measure(high_mm, system)}"
    message = (
        f"{what}: made to {format_measure(radius_mm, system)} it flexes to {span}; the radius is {band.words(system)}"
    )
    if low_mm <= band.low_mm + TOLERANCE_MM and band.high_mm <= high_mm + TOLERANCE_MM:
        return RadiusFit(what, "fits", 1.0, f"{message}. It fits.")
    if high_mm < band.low_mm - TOLERANCE_MM or low_mm > band.high_mm + TOLERANCE_MM:
        return RadiusFit(what, "will_miss", 0.0, f"{message}. It will miss.")
    if not band.is_bounded:
        return RadiusFit(what, "may_miss", None, f"{message}. It may miss; how likely cannot be said.")
    chance = _below(band, high_mm) - _below(band, low_mm)
    return RadiusFit(
        what, "may_miss", chance, f"{message}. It may miss: about {1 - chance:.0%} by the tape's accuracy."
    )


def fits_of(walls: Iterable[WallWorkUp], material: str, system: System) -> tuple[RadiusFit, ...]:
    """How the pieces of a material would fit if they were made to the radii as they are known today.

    Args:
        walls: of the job, worked up. material: code of the profile. system: of the words.

    Returns:
        One entry for each arc of each run that is made for its wall by a radius; none for stock and templates.

    Raises:
        Nothing of its own.

    Source: as `radius_fit`; pieces are made to the radius at their back, on the finished face.

    >>> fits_of((), "BASE", "metric")
    ()
    """
    fits = []
    for wall in walls:
        bands = {band.piece_index: band for band in wall.bands}
        for plan in wall.trims:
            if plan.run.material != material or plan.run.form not in MADE_FORMS or plan.run.form == "template":
                continue
            for arc in plan.arcs:
                if arc.side not in ("concave", "convex"):
                    continue
                known = bands.get(arc.piece_index)
                band = known.at_radius(arc.radius_mm) if known else None
                what = f"{plan.run.name} on {wall.spec.name}, piece {arc.piece_index + 1}"
                fits.append(radius_fit(what, arc.radius_mm, band, arc.flex_inside_mm, arc.flex_outside_mm, system))
    return tuple(fits)


def rush_extra(terms: OrderTerms | None, price: Decimal | None) -> Decimal | None:
    """What a rush costs besides the price.

    Args:
        terms: of the supplier, None where nothing was said. price: of the item in money, None while not known.

    Returns:
        Fee and share of the price together, in cents; None where neither is stated, or a share of an unknown price.

    Raises:
        MoneyError: an amount that is none.

    Source: own rule.

    >>> said = OrderTerms(rush_fee=Decimal(60), rush_share=Decimal("0.25"), source="telephone",
    ...     stated_on=date(2027, 1, 4))
    >>> rush_extra(said, Decimal(400)), rush_extra(said, None)
    (Decimal('160.00'), None)
    """
    if terms is None or (terms.rush_fee is None and terms.rush_share is None):
        return None
    if terms.rush_share and price is None:
        return None
    return to_cents((terms.rush_fee or Decimal(0)) + (terms.rush_share or Decimal(0)) * (price or Decimal(0)))


def order_choices(
    item: ItemToOrder,
    *,
    firm: WorkCalendar,
    supplier: WorkCalendar,
    today: date,
    now_at: time | None = None,
    cut_off: time | None = None,
) -> tuple[OrderChoice, ...]:
    """Order now, wait for the field check, or wait and rush: each with its days, its risk and its cost.

    Args:
        item: before its check. firm, supplier: working days. today: the firm's day. now_at: the firm's time of day,
            None when it does not matter. cut_off: the supplier's hour for orders.

    Returns:
        The three ways, in this order; after the check the first and the last, for there is nothing to wait for. What
        cannot be said of a way is a gap of it.

    Raises:
        Nothing of its own: days that cannot be counted are a gap.

    Source: feature list, order now against after the field check; own rule.

    >>> term = LeadTerm(15, "workdays", 2, "price list", date(2027, 1, 4))
    >>> item = ItemToOrder(date(2027, 6, 30), term, None, None, 3, 5, check_on=date(2027, 6, 7))
    >>> shop = WorkCalendar("shop")
    >>> [(one.way, one.late_workdays) for one in order_choices(item, firm=shop, supplier=shop, today=date(2027, 6, 1))]
    [('now', 0), ('wait', 3), ('rush', None)]
    """
    rush = item.terms.rush_term if item.terms else None
    ways: list[tuple[Way, LeadTerm | None, date | None]] = [("now", item.term, today)]
    after = today
    if not item.is_checked:
        after_check = None if item.check_on is None else max(item.check_on, today)
        ways.append(("wait", item.term, after_check))
        ways.append(("rush", rush, after_check))
    else:
        ways.append(("rush", rush, after))
    return tuple(
        _choice(way, item, term, day, firm, supplier, now_at if day == today else None, cut_off)
        for way, term, day in ways
    )


def best_choice(choices: Sequence[OrderChoice]) -> OrderChoice | None:
    """The way that comes in time, fits and costs least.

    Args:
        choices: of `order_choices`.

    Returns:
        Of those with a day: in time before late, less late before later, likelier to fit first, then the least
        expected cost; what is not known counts as worse. None when no way has a day.

    Raises:
        Nothing.

    Source: own rule: advice, never a decision.

    >>> best_choice(()) is None
    True
    """
    dated = [choice for choice in choices if choice.arrives is not None]
    far = Decimal("Infinity")
    return min(
        dated,
        key=lambda choice: (
            far if choice.late_workdays is None else Decimal(choice.late_workdays),
            choice.fit == "will_miss",
            far if choice.expected_cost is None else choice.expected_cost,
            -(choice.chance if choice.chance is not None else 0.0),
        ),
        default=None,
    )


def _choice(
    way: Way,
    item: ItemToOrder,
    term: LeadTerm | None,
    day: date | None,
    firm: WorkCalendar,
    supplier: WorkCalendar,
    placed_at: time | None,
    cut_off: time | None,
) -> OrderChoice:
    gaps = []
    if day is None:
        gaps.append("No day is known for the field check: enter the job's start.")
    if term is None and way == "rush":
        gaps.append("The supplier has stated no rush: enter its order terms.")
    elif term is None:
        gaps.append("No lead term is in force: enter what the supplier says.")
    if item.need_by is None:
        gaps.append("No day is known by which it is needed.")
    cushion = item.terms.rush_cushion(item.cushion_workdays) if item.terms and way == "rush" else item.cushion_workdays
    arrives, in_hand, late = None, None, None
    if day is not None and term is not None:
        try:
            arrives = arrival(
                day,
                term,
                cushion_workdays=cushion,
                firm=firm,
                supplier=supplier,
                placed_at=placed_at,
                cut_off=cut_off,
            )
            if item.need_by is not None:
                late = workdays_late(item.need_by, arrives.usable, firm)
                dates = order_by(
                    item.need_by,
                    term,
                    cushion_workdays=cushion,
                    sign_off_workdays=item.sign_off_workdays,
                    firm=firm,
                    supplier=supplier,
                )
                in_hand = days_in_hand(day, dates.order_by, firm)
        except OrderDateError as error:
            gaps.append(str(error))
    extra = to_cents(Decimal(0)) if way != "rush" else rush_extra(item.terms, item.price)
    if way == "rush" and term is not None and extra is None:
        gaps.append("What the rush costs is not stated, or of a price not known.")
    fit, chance, risk = _risk(item, is_confirmed=way != "now" or item.is_checked)
    remake = None
    if fit == "fits":
        remake = to_cents(Decimal(0))
    elif chance is not None and item.price is not None:
        remake = to_cents(item.price * (1 - Decimal(repr(chance))))
    elif way == "now" and item.price is None:
        gaps.append("No price is known, so neither is what a remake would cost.")
    return OrderChoice(way, day, arrives, in_hand, late, fit, chance, risk, extra, remake, tuple(gaps))


def _risk(item: ItemToOrder, *, is_confirmed: bool) -> tuple[Fit, float | None, str]:
    if not item.fits:
        return "fits", 1.0, "Nothing of it is made to a radius."
    if is_confirmed:
        return "fits", 1.0, "It is made to the radius found on the framed wall."
    worst: Fit = next(fit for fit in _WORST if any(entry.fit == fit for entry in item.fits))
    chances = [fit.chance for fit in item.fits]
    known = [value for value in chances if value is not None]
    # The arcs of a run are measured apart; that all fit is taken as likely as each on its own account.
    chance = math.prod(known) if len(known) == len(chances) else None
    return worst, chance, " ".join(fit.sentence for fit in item.fits if fit.fit == worst)


def _below(band: RadiusBand, radius_mm: float) -> float:
    """The share of a triangular distribution over the band that lies at or below a radius."""
    low, best, high = band.low_mm, band.best_mm, band.high_mm
    if radius_mm <= low:
        return 0.0
    if radius_mm >= high:
        return 1.0
    if radius_mm <= best:
        return (radius_mm - low) ** 2 / ((high - low) * (best - low))
    return 1 - (high - radius_mm) ** 2 / ((high - low) * (high - best))


def checked_on(walls: Sequence[WallWorkUp], material: str) -> date | None:
    """The day from which on every dimension of the plan behind the made runs of a material is confirmed on site.

    Args:
        walls: of one job, worked up.
        material: code of the material.

    Returns:
        The last of the days; None while a dimension is not confirmed, or where no run is made of the material.

    >>> checked_on((), "TRIM-10") is None
    True
    """
    days: list[date] = []
    for wall in walls:
        if not any(run.material == material and run.form in MADE_FORMS for run in wall.spec.trims):
            continue
        marks = {entry.dimension: entry.mark for entry in wall.spec.taken.marks}
        for dimension in every_dimension(wall.spec):
            if not dimension.place.startswith("pieces["):
                continue
            mark = marks.get(dimension.place)
            if mark is None or mark.how != "confirmed" or is_open(mark.brought_in):
                return None
            days.append(mark.on)
    return max(days, default=None)
