"""What to buy for a job: quantities of all walls merged by material, then waste, then whole packs.

Quantities merge over the walls of a job before they are rounded to packs, and the cost is shared back to the
walls by their net quantities. Net, waste and rounding stay three separate figures: net + waste + rounding = buy.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import ROUND_CEILING, Decimal
from itertools import product
from typing import Annotated

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import Amount, As, Declared, Items, Of, Rounded, TextOrNull, View
from catalog.core.ground.money import share_out, to_cents
from catalog.core.ground.plain_text import half_up
from catalog.core.ground.units import System, convert, format_inches, format_length
from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.specs import Material, Pack
from catalog.core.materials.standards import STANDARD_SPECS, Standards
from jobs.core.boards.board_check import Fault
from jobs.core.boards.boards import FacePlan, JobSheets, merge
from jobs.core.boards.chosen_board_plan import sheets_by_kept
from jobs.core.cutting.cutting import CutPiece, CutPlan, CuttingError, plan_cuts
from jobs.core.measure.explanation import RULE_VERSION, Explanation, Quantity, Why
from jobs.core.measure.findings import Finding, Override, ShownOverride
from jobs.core.takeoff.cut_list import KeptSticks, OnHand, StickList, plan_by_kept, stick_list, sticks_on_hand
from jobs.core.takeoff.job_items import NO_DAYS, ItemQuantity, JobItem, SiteDays, is_of_item, item_quantities
from jobs.core.takeoff.job_plans import NO_PLANS, JobPlans
from jobs.core.takeoff.wall_work_up import StickPiece, WallWorkUp

TEMPLATE_CHARGE = "template"
"""Stands where a pack's code does, for what a maker charges for a template."""
MAX_OTHER_SIZES = 3
MAX_OF_ANOTHER_SIZE = 12
# Figures of quantities are kept to a millionth of the unit: far below any tape, far above float noise.
_PLACES = Decimal("0.000001")


Cost = Annotated[Decimal, Amount(), As(withheld="costs")]


class CutStick(View):
    """A stick as it is cut."""

    stock_code: Annotated[str, As(name="stick")]
    cuts: Annotated[
        tuple[float, ...], As(name="cuts_mm"), Of(lambda stick: [round(c.length_mm, 3) for c in stick.cuts])
    ]
    leftover_mm: Annotated[float, Rounded(3), As(name="left_mm")]


@dataclass(frozen=True)
class TakeoffLine(View):
    """One net quantity of one wall, explained.

    wall: its key; empty for an item of the job as a whole. computed: what the rules give; net: what counts, the same
    unless a person set another quantity. Both in `unit` (the material's unit used). override: that person's decision,
    with reason.
    """

    key: str
    wall: Annotated[str, TextOrNull()]
    label: str
    material: str
    computed: Decimal
    net: Decimal
    unit: str
    explanation: Why
    override: ShownOverride | None = None

    @property
    def drift(self) -> Decimal | None:
        """How far the computed quantity has moved since it was overridden; None without an override.

        >>> line = TakeoffLine("w/tape", "w", "Tape", "T", Decimal(3), Decimal(5), "m", Explanation("r", (), ""))
        >>> line.drift is None
        True
        """
        if self.override is None or self.override.original is None:
            return None
        return self.computed - Decimal(repr(self.override.original))


@dataclass(frozen=True)
class PackCount(View):
    """So many packs of one kind. unit_price, amount: money, None when the catalog holds no price for the day."""

    pack: str
    label: str
    count: int
    quantity: Annotated[Decimal, As(aside=True)]
    unit_price: Cost | None
    amount: Cost | None


@dataclass(frozen=True)
class WallShare(View):
    """A wall's part of a purchase: its net quantity and its share of the cost (money, None without a price).

    wall: its key; empty for what serves the whole job.
    """

    wall: Annotated[str, TextOrNull()]
    net: Decimal
    cost: Cost | None


@dataclass(frozen=True, kw_only=True)
class Purchase(View):
    """What is bought of one material for the job.

    net + waste + rounding = buy + on_hand, all in `unit`. packs: what makes up `buy`. cost: money, None while a price
    is missing. cuts: the cut list for sticks. sheets: of the whole job, those of this board among them. on_hand: taken
    of what is set aside for the job; stock_cost: what the job is charged for it, beside `cost`. lines: keys of the
    takeoff lines merged here.
    apart_packs: how many packs it would take wall by wall, waste included, to show what merging saves.
    """

    material: str
    name: str
    kind: str
    supply: str
    supplier: Annotated[str | None, As(aside=True)]
    unit: str
    net: Decimal
    waste: Decimal
    rounding: Decimal
    buy: Decimal
    packs: tuple[PackCount, ...]
    apart_packs: Annotated[int | None, As(name="packs_wall_by_wall")] = None
    cost: Cost | None
    on_hand: Annotated[Decimal, "Taken of the firm's stock that is set aside for the job."] = Decimal(0)
    stock_cost: Annotated[Cost, "What the job is charged for it, beside `cost`."] = Decimal("0.00")
    shares: tuple[WallShare, ...]
    cuts: Annotated[CutPlan | None, Items(Declared(CutStick)), Of("cuts.sticks")] = None
    lines: tuple[str, ...]
    sheets: Annotated[JobSheets | None, As(aside=True)] = None
    explanation: Why

    @property
    def cost_in_all(self) -> Decimal | None:
        """What the job is charged: what is bought, and what is taken of the firm's stock."""
        return None if self.cost is None else self.cost + self.stock_cost


@dataclass(frozen=True)
class Takeoff:
    """The whole job's takeoff: lines wall by wall, purchases merged, findings to read."""

    lines: tuple[TakeoffLine, ...]
    purchases: tuple[Purchase, ...]
    findings: tuple[Finding, ...]

    @property
    def cost(self) -> Decimal | None:
        """Cost of all purchases in money, None while any of them has a gap."""
        if any(finding.weight == "gap" for finding in self.findings):
            return None
        amounts = [purchase.cost_in_all for purchase in self.purchases]
        return None if None in amounts else sum((a for a in amounts if a is not None), Decimal("0.00"))


def take_off(
    walls: Sequence[WallWorkUp],
    book: Catalog,
    on_day: date,
    overrides: Sequence[Override] = (),
    plans: JobPlans = NO_PLANS,
    items: Sequence[JobItem] = (),
    days: SiteDays = NO_DAYS,
) -> Takeoff:
    """Merge the quantities of walls and items into purchases at the prices of a day.

    walls: worked up, each with its own key. book: the catalog. on_day: the day whose prices hold.
    overrides: of lines, beside those of the walls. plans: what a person chose to cut by, and what is on hand; where
    they are out of date the quick plans stand in, and a finding says so. items: of the job, beside its walls. days:
    of its activities, for items that go by days. Returns the takeoff; whatever is missing is a finding.
    Source: own convention (merge before rounding); textbook *Estimating in Building Construction*, example 16-3,
    for net, then waste, then whole packs.

    >>> from catalog.core.materials.specs import Firm
    >>> from catalog.core.materials.standards import starter_standards
    >>> take_off((), Catalog(Firm("F", "Etc/UTC", "EUR", "metric", 3, 5), starter_standards()), date(2026, 5, 4)).lines
    ()
    """
    decisions = {override.key: override for wall in walls for override in wall.spec.overrides} | {
        override.key: override for override in overrides
    }
    findings: list[Finding] = [finding for wall in walls for finding in wall.findings]
    lines: list[TakeoffLine] = []
    for wall in walls:
        for quantity in wall.quantities:
            line = _line_of(wall.spec.key, quantity, book, decisions, findings)
            if line is not None:
                lines.append(line)
    for item in item_quantities(items, walls, book, days):
        if isinstance(item, Finding):
            findings.append(item)
        else:
            lines.append(_line_of_item(item, decisions))
    by_material: dict[str, list[TakeoffLine]] = {}
    for line in lines:
        by_material.setdefault(line.material, []).append(line)
    purchases = []
    cutting = Cutting(book.standards, plans, _kept_sheets(walls, plans, findings), book.firm.display_units)
    for code, material_lines in by_material.items():
        purchase = _purchase(book.materials[code], material_lines, walls, cutting, on_day, findings)
        if purchase is not None:
            purchases.append(purchase)
    findings += _idle_overrides(overrides, lines)
    return Takeoff(tuple(lines), tuple(purchases), _each_once(findings))


def _idle_overrides(overrides: Sequence[Override], lines: Sequence[TakeoffLine]) -> Iterator[Finding]:
    known = {line.key for line in lines}
    for override in overrides:
        if override.key not in known:
            sentence = (
                f"An override of the job names {override.key}, which is not one of its quantities: correct its key "
                "or remove it. A check is decided with its wall."
            )
            yield Finding(f"job/override/{override.key}", "caution", sentence)


@dataclass(frozen=True)
class Cutting:
    """How this job is cut: the firm's standards, the plans a person chose, its sheets where fresh; in which units."""

    standards: Standards
    plans: JobPlans
    sheets: JobSheets | None
    system: System

    def is_by_the_piece(self, track: str) -> bool:
        """Track is bought by its length, every off-cut lapped on, until a plan is chosen or some lies in the yard."""
        chosen = self.plans.sticks
        is_planned = chosen is not None and chosen.plan(track) is not None
        return is_planned or bool(sticks_on_hand(track, self.plans.on_hand))


def _kept_sheets(walls: Sequence[WallWorkUp], plans: JobPlans, findings: list[Finding]) -> JobSheets | None:
    if plans.boards is None:
        return None
    hung = [plan for wall in walls for plan in wall.face_plans]
    sheets: JobSheets | None = None
    faults: tuple[Fault, ...] = ()
    if all(plan.is_chosen for plan in hung):
        sheets, faults = sheets_by_kept(plans.boards, hung)
        if sheets is not None and not faults:
            return sheets
    why = "; ".join(fault.sentence for fault in faults[:3])
    sentence = (
        f"The sheets of the board plan chosen for the job do not pass the independent check ({why})."
        if why
        else "The board plan chosen for the job is out of date: its walls or its boards have changed since."
    )
    sentence += " Sheets are counted by the quick plans instead; look for a better plan again."
    findings.append(
        Finding("plans/boards", "caution", sentence, "Own rule: a plan is used only for what it was made for")
    )
    return None


def _each_once(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    return tuple({finding.key: finding for finding in findings}.values())


def _line_of(
    wall: str,
    quantity: Quantity,
    book: Catalog,
    decisions: Mapping[str, Override],
    findings: list[Finding],
) -> TakeoffLine | None:
    if quantity.material is None:
        return None
    material = book.materials.get(quantity.material)
    if material is None:
        findings.append(
            Finding(
                f"{quantity.key}/material",
                "gap",
                f"{quantity.label} needs material {quantity.material}, which the catalog does not hold; add it there.",
            )
        )
        return None
    computed = convert(Decimal(repr(quantity.value)), quantity.unit, material.unit_used).quantize(_PLACES)
    return _decided(quantity.key, wall, quantity.label, material, computed, quantity.explanation, decisions)


def _line_of_item(quantity: ItemQuantity, decisions: Mapping[str, Override]) -> TakeoffLine:
    return _decided(
        quantity.key, quantity.wall, quantity.label, quantity.material, quantity.net, quantity.explanation, decisions
    )


def _decided(
    key: str,
    wall: str,
    label: str,
    material: Material,
    computed: Decimal,
    explanation: Explanation,
    decisions: Mapping[str, Override],
) -> TakeoffLine:
    override = decisions.get(key)
    if override is not None and override.value is None:
        override = None
    net = computed if override is None else Decimal(repr(override.value))
    return TakeoffLine(key, wall, label, material.code, computed, net, material.unit_used, explanation, override)


def with_waste(net: Decimal, waste: Decimal) -> Decimal:
    """Net quantity plus its waste share, before rounding to packs.

    net: >= 0 in any unit. waste: share, 0.05 for 5 %. Returns the same unit. Source: *Estimating in Building
    Construction*, example 16-3: 112 and 38 sheets with 5 % are 118 and 40 after rounding up.

    >>> math.ceil(with_waste(Decimal(112), Decimal("0.05"))), math.ceil(with_waste(Decimal(38), Decimal("0.05")))
    (118, 40)
    """
    return net * (1 + waste)


def whole_packs(need: Decimal, packs: Sequence[Pack], on_day: date) -> tuple[tuple[Pack, int], ...]:
    """Whole packs that hold at least `need`, at the least cost, or with the least left over while a price is missing.

    need: > 0 in the unit the packs hold. packs: at least one. Returns (pack, count), counts > 0, largest pack first.

    >>> box = Pack("B", "box of 1,000", Decimal(1000))
    >>> [(pack.code, count) for pack, count in whole_packs(Decimal(2500), [box], date(2026, 5, 4))]
    [('B', 3)]
    """
    packs = _for_sale(packs, on_day)
    if not packs:
        raise ValueError("a material needs at least one pack")
    weights = {pack.code: _weight(pack, on_day) for pack in packs}
    ranked = sorted(packs, key=lambda pack: (weights[pack.code] / pack.quantity, -pack.quantity, pack.code))
    cheapest = ranked[0]
    smallest = min(packs, key=lambda pack: (pack.quantity, pack.code))
    # The cheapest by quantity fills most of the need; a few of three other sizes may finish it.
    others = [pack for pack in (smallest, *ranked[1:]) if pack is not cheapest]
    others = list({pack.code: pack for pack in others}.values())[:MAX_OTHER_SIZES]
    best: tuple[Decimal, Decimal, tuple[int, ...]] | None = None
    for counts in product(*(range(_most(need, pack) + 1) for pack in others)):
        held = sum((pack.quantity * count for pack, count in zip(others, counts, strict=True)), Decimal(0))
        filled = max(0, math.ceil((need - held) / cheapest.quantity))
        cost = sum((weights[p.code] * n for p, n in zip(others, counts, strict=True)), weights[cheapest.code] * filled)
        mix = (cost, held + filled * cheapest.quantity, (filled, *counts))
        best = mix if best is None else min(best, mix)
    assert best is not None
    chosen = [(pack, count) for pack, count in zip((cheapest, *others), best[2], strict=True) if count]
    return tuple(sorted(chosen, key=lambda pack: (-pack[0].quantity, pack[0].code)))


def _weight(pack: Pack, on_day: date) -> Decimal:
    """What is made least: the price, or while one is missing the quantity bought."""
    price = pack.price_on(on_day)
    return pack.quantity if price is None else price.amount


def _most(need: Decimal, pack: Pack) -> int:
    return min(MAX_OF_ANOTHER_SIZE, math.ceil(need / pack.quantity))


def _for_sale(packs: Sequence[Pack], on_day: date) -> Sequence[Pack]:
    """Packs with a price on the day where any has one; else all of them, and the missing price is then a gap."""
    return [pack for pack in packs if pack.price_on(on_day) is not None] or packs


def _purchase(
    material: Material,
    lines: Sequence[TakeoffLine],
    walls: Sequence[WallWorkUp],
    cutting: Cutting,
    on_day: date,
    findings: list[Finding],
) -> Purchase | None:
    if material.waste is None:
        findings.append(_gap(material, "waste", "no waste share; enter one (0 % is an answer too)"))
        return None
    if not material.packs:
        findings.append(_gap(material, "packs", "no pack to buy; enter how it is sold"))
        return None
    sticks = [piece for wall in walls for piece in wall.sticks if piece.material == material.code]
    if sticks or cutting.is_by_the_piece(material.code):
        sticks += [piece for wall in walls for piece in wall.track_sticks if piece.material == material.code]
    plans = [plan for wall in walls for plan in wall.face_plans]
    set_by_hand = any(line.override is not None for line in lines)
    # Sheets and sticks are counted by what is hung and cut; of an item there is nothing to lay out.
    items_alone = all(is_of_item(line.key) for line in lines)
    if material.kind == "board" and not set_by_hand and not items_alone:
        bought = _boards(material, plans, lines, cutting, on_day)
    elif sticks and not set_by_hand:
        of_sticks = _sticks(material, sticks, lines, cutting, on_day, findings)
        if of_sticks is None:
            return None
        bought = of_sticks
    else:
        bought = _bulk(material, lines, on_day)
    bought = _less_stock(bought, cutting.plans.on_hand)
    for count in bought.packs:
        if count.unit_price is None:
            findings.append(_gap(material, f"price/{count.pack}", f"no price for {count.label} on {day_words(on_day)}"))
    findings.extend(_prices_no_longer_held(material, bought, on_day))
    return _shared(_with_template_charges(material, walls, bought, findings), lines)


def _with_template_charges(
    material: Material, walls: Sequence[WallWorkUp], bought: Purchase, findings: list[Finding]
) -> Purchase:
    """A maker charges for each template beside the lengths: it is neither wasted nor rounded, and holds no length."""
    runs = [run for wall in walls for run in wall.spec.trims if run.material == material.code]
    count = sum(run.form == "template" for run in runs)
    charge = material.fact("template_charge")
    if not count:
        return bought
    if charge is None:
        findings.append(_gap(material, "template_charge", "no charge for a template; enter one (0 is an answer too)"))
        return replace(bought, cost=None)
    each = to_cents(charge.value)
    row = PackCount(TEMPLATE_CHARGE, "Template", count, Decimal(0), each, to_cents(each * count))
    cost = None if bought.cost is None or row.amount is None else bought.cost + row.amount
    return replace(bought, packs=(*bought.packs, row), cost=cost)


def _less_stock(bought: Purchase, on_hand: Sequence[OnHand]) -> Purchase:
    """Whole packs of the firm's stock that are set aside go before packs of the same kind that are bought."""
    mine = [stock for stock in on_hand if stock.material == bought.material and stock.length_mm is None]
    packs, taken, charged = list(bought.packs), list[PackCount](), bought.stock_cost
    for stock in mine:
        place = next((n for n, pack in enumerate(packs) if pack.pack == stock.pack and pack.count), None)
        if place is None:
            continue
        pack = packs[place]
        used = min(stock.count, pack.count)
        taken.append(replace(pack, count=used))
        charged += to_cents((stock.unit_cost or Decimal(0)) * used)
        left = pack.count - used
        amount = None if pack.unit_price is None else to_cents(pack.unit_price * left)
        packs[place] = replace(pack, count=left, amount=amount)
    if not taken:
        return bought
    quantity = sum((pack.quantity * pack.count for pack in taken), Decimal(0))
    packs = [pack for pack in packs if pack.count]
    amounts = [pack.amount for pack in packs]
    cost = None if None in amounts else sum((amount for amount in amounts if amount is not None), Decimal("0.00"))
    words = ", ".join(f"{pack.count} x {pack.label}" for pack in taken)
    why = replace(bought.explanation, inputs=(*bought.explanation.inputs, ("Taken of the firm's stock", words)))
    return replace(
        bought,
        buy=bought.buy - quantity,
        packs=tuple(packs),
        cost=cost,
        on_hand=bought.on_hand + quantity,
        stock_cost=charged,
        explanation=why,
    )


def _charged(plan: CutPlan, material: str, on_hand: Sequence[OnHand]) -> Decimal:
    """What the job is charged for sticks taken of the firm's stock."""
    costs = {code: stock.unit_cost or Decimal(0) for code, stock, _ in sticks_on_hand(material, on_hand)}
    return to_cents(sum((costs.get(stick.stock_code, Decimal(0)) for stick in plan.sticks), Decimal(0)))


def _prices_no_longer_held(material: Material, bought: Purchase, on_day: date) -> Iterator[Finding]:
    used = {count.pack for count in bought.packs}
    for pack in material.packs:
        price = pack.price_on(on_day)
        if pack.code in used and price is not None and price.held_until is not None and price.held_until < on_day:
            sentence = (
                f"{material.name}: the price of {pack.label} was held until {day_words(price.held_until)}; ask again."
            )
            yield Finding(f"catalog/{material.code}/price-held/{pack.code}", "caution", sentence)


def _gap(material: Material, what: str, sentence: str) -> Finding:
    return Finding(f"catalog/{material.code}/{what}", "gap", f"{material.name} ({material.code}) has {sentence}.")


def _counted(pack: Pack, count: int, on_day: date) -> PackCount:
    price = pack.price_on(on_day)
    amount = None if price is None else to_cents(price.amount * count)
    return PackCount(pack.code, pack.label, count, pack.quantity, price.amount if price else None, amount)


def _make(
    material: Material,
    lines: Sequence[TakeoffLine],
    waste: Decimal,
    packs: tuple[PackCount, ...],
    explanation: Explanation,
    on_hand: Decimal = Decimal(0),
    **more: object,
) -> Purchase:
    net = sum((line.net for line in lines), Decimal(0))
    buy = sum((count.quantity * count.count for count in packs), Decimal(0))
    amounts = [count.amount for count in packs]
    cost = None if None in amounts else sum((a for a in amounts if a is not None), Decimal("0.00"))
    bought = Purchase(
        material=material.code,
        name=material.name,
        kind=material.kind,
        supply=material.supply,
        supplier=material.supplier,
        unit=material.unit_used,
        net=net,
        waste=waste,
        rounding=buy + on_hand - net - waste,
        buy=buy,
        packs=packs,
        cost=cost,
        on_hand=on_hand,
        shares=(),
        lines=tuple(line.key for line in lines),
        explanation=explanation,
    )
    return replace(bought, **more)  # type: ignore[arg-type]


def _bulk(material: Material, lines: Sequence[TakeoffLine], on_day: date) -> Purchase:
    assert material.waste is not None
    net = sum((line.net for line in lines), Decimal(0))
    need = with_waste(net, material.waste).quantize(_PLACES, ROUND_CEILING)
    chosen = whole_packs(need, material.packs, on_day) if need > 0 else ()
    packs = tuple(_counted(pack, count, on_day) for pack, count in chosen)
    apart = sum(
        count
        for wall in {line.wall for line in lines}
        for _, count in whole_packs(
            max(with_waste(sum((x.net for x in lines if x.wall == wall), Decimal(0)), material.waste), _PLACES),
            material.packs,
            on_day,
        )
    )
    explanation = Explanation(
        "Net quantities of all walls added up, plus the waste share, rounded up to whole packs",
        (
            ("Net, all walls", f"{_shown(net)} {material.unit_used}"),
            ("Waste share", f"{_shown(material.waste * 100)} %"),
            ("With waste", f"{_shown(need)} {material.unit_used}"),
            *((f"Packs of {_shown(p.quantity)} {material.unit_used}", f"{n} x {p.label}") for p, n in chosen),
            ("Wall by wall it would take", f"{apart} packs"),
            *_run_by_run(material, lines),
        ),
        f"Takeoff rules {RULE_VERSION}; Estimating in Building Construction, example 16-3, for the order of steps",
    )
    return _make(material, lines, need - net, packs, explanation, apart_packs=apart)


def _run_by_run(material: Material, lines: Sequence[TakeoffLine]) -> tuple[tuple[str, str], ...]:
    """For track, what cutting each run from its own sticks would take, so that sharing off-cuts can be seen."""
    if material.kind != "track" or len(material.packs) != 1 or len(lines) < 2:
        return ()
    stick = material.packs[0].quantity
    counts = [math.ceil(line.net / stick) for line in lines]
    return (("Each run from its own sticks", f"{' + '.join(map(str, counts))} = {sum(counts)} sticks"),)


def _boards(
    material: Material, plans: Sequence[FacePlan], lines: Sequence[TakeoffLine], cutting: Cutting, on_day: date
) -> Purchase:
    assert material.waste is not None
    mine = [plan for plan in plans if any(layer.board == material.code for layer in plan.layers)]
    together = cutting.sheets or merge(mine)
    planned = {count.pack_code: count.count for count in together.purchase if count.board == material.code}
    by_code = {pack.code: pack for pack in material.packs}
    by_wall: dict[str, Counter[str]] = {}
    for plan in mine:
        used = by_wall.setdefault(plan.key, Counter())
        used.update(sheet.pack_code for sheet in plan.sheets if sheet.board == material.code)
    apart = _packs_apart(material, lines, by_wall, by_code)
    total = sum(planned.values())
    net = sum((line.net for line in lines), Decimal(0))
    waste = (net * material.waste).quantize(_PLACES, ROUND_CEILING)
    counts, spare = _with_spare(planned, by_code, net + waste)
    packs = tuple(_counted(by_code[code], count, on_day) for code, count in sorted(counts.items()))
    planned_quantity = sum((by_code[code].quantity * count for code, count in planned.items()), Decimal(0))
    explanation = Explanation(
        f"Sheets of the {'plan chosen for the job' if cutting.sheets else 'quick board plan of every face'}, off-cuts "
        "used again; more where they do not hold net and waste",
        (
            ("Net area, all faces and layers", f"{_shown(net)} {material.unit_used}"),
            ("Sheets planned", f"{total} ({_shown(planned_quantity)} {material.unit_used})"),
            ("Off-cuts left over", f"{_shown(planned_quantity - net)} {material.unit_used}"),
            ("Waste share", f"{_shown(material.waste * 100)} %, {_shown(waste)} {material.unit_used}"),
            ("Sheets added for waste", str(spare)),
            ("Planned face by face, waste included, it would take", f"{apart} sheets"),
            *_proven_boards(cutting),
        ),
        f"Takeoff rules {RULE_VERSION}: joints on studs, none shared between layers",
    )
    return _make(material, lines, waste, packs, explanation, sheets=together, apart_packs=apart)


def _proven_boards(cutting: Cutting) -> tuple[tuple[str, str], ...]:
    boards = cutting.plans.boards
    if cutting.sheets is None or boards is None:
        return ()
    chosen = f"{boards.by}, {day_words(boards.on)}" if boards.on else boards.by
    least = "not proven" if boards.gap is None else f"at most {100 * boards.gap:.2f} % above the proven least"
    return (("Plan of all boards of the job", least), ("Chosen by", chosen or "nobody named"))


def _sticks(
    material: Material,
    sticks: Sequence[StickPiece],
    lines: Sequence[TakeoffLine],
    cutting: Cutting,
    on_day: date,
    findings: list[Finding],
) -> Purchase | None:
    assert material.waste is not None
    lengths = _for_sale([pack for pack in material.packs if pack.length_mm is not None], on_day)
    if not lengths:
        is_made = material.kind == "trim"
        return _made_to_length(material, sticks, lines, on_day) if is_made else _bulk(material, lines, on_day)
    wanted = stick_list(material, sticks, cutting.standards, cutting.plans.on_hand, on_day)
    if wanted is None:
        findings.append(_saw_gap(material))
        return None
    try:
        plan = _stick_plan(material, wanted, cutting.plans, findings)
        apart_plans = _plans_apart(sticks, wanted, plan, cutting.plans)
    except CuttingError as error:
        findings.append(Finding(f"catalog/{material.code}/sticks", "gap", f"{material.name}: {error.reason}"))
        return None
    by_code = {pack.code: pack for pack in lengths}
    apart = _packs_apart(material, lines, {wall: dict(own.counts) for wall, own in apart_plans.items()}, by_code)
    net = sum((line.net for line in lines), Decimal(0))
    waste = (net * material.waste).quantize(_PLACES, ROUND_CEILING)
    taken_mm = sum(stick.length_mm for stick in plan.sticks if stick.stock_code not in by_code)
    on_hand = convert(Decimal(repr(taken_mm)), "mm", material.unit_used).quantize(_PLACES)
    bought = {code: count for code, count in plan.counts if code in by_code}
    counts, spare = _with_spare(bought, by_code, net + waste - on_hand)
    packs = tuple(_counted(by_code[code], count, on_day) for code, count in sorted(counts.items()))
    planned = sum((by_code[code].quantity * count for code, count in bought.items()), Decimal(0))
    explanation = Explanation(
        "Every piece cut from whole sticks, saw cuts counted; more where they do not hold net and waste",
        (
            ("Pieces", f"{sum(stick.count for stick in sticks)}"),
            *_splices(material, sticks),
            ("Net length", f"{_shown(net)} {material.unit_used}"),
            ("Width of a saw cut", format_length(wanted.kerf_mm, cutting.system)),
            *((("Taken of what is on hand", f"{_shown(on_hand)} {material.unit_used}"),) if on_hand else ()),
            ("Sticks planned to buy", f"{sum(bought.values())} ({_shown(planned)} {material.unit_used})"),
            ("Waste share", f"{_shown(material.waste * 100)} %, {_shown(waste)} {material.unit_used}"),
            ("Sticks added for waste", str(spare)),
            ("Cut wall by wall, waste included, it would take", f"{apart} sticks"),
            *_run_by_run(material, lines),
            *_proven_sticks(material.code, plan, cutting.plans.sticks),
        ),
        f"Takeoff rules {RULE_VERSION}: {plan.method}",
    )
    charged = _charged(plan, material.code, cutting.plans.on_hand)
    return _make(material, lines, waste, packs, explanation, on_hand, cuts=plan, apart_packs=apart, stock_cost=charged)


def _plans_apart(sticks: Sequence[StickPiece], wanted: StickList, plan: CutPlan, plans: JobPlans) -> dict[str, CutPlan]:
    """Each wall cut by itself from what is sold. plan: of all of them. Raises CuttingError as `plan_cuts`."""
    by_wall: dict[str, list[CutPiece]] = {}
    for stick in sticks:
        by_wall.setdefault(stick.wall, []).append(CutPiece(stick.label, stick.length_mm, stick.count))
    sold = [stock for stock in wanted.stocks if stock.count is None]
    # One wall alone, cut by the quick plan from what is sold, has just been planned.
    if len(by_wall) == 1 and len(sold) == len(wanted.stocks) and plans.sticks is None:
        return dict.fromkeys(by_wall, plan)
    return {wall: plan_cuts(own, sold, kerf_mm=wanted.kerf_mm) for wall, own in by_wall.items()}


def _packs_apart(
    material: Material,
    lines: Sequence[TakeoffLine],
    counts: Mapping[str, Mapping[str, int]],
    by_code: Mapping[str, Pack],
) -> int:
    """Packs it would take wall by wall, each with its own waste, as the purchase of all has it.

    counts: packs planned, by wall and pack code. by_code: the packs to be had.
    """
    assert material.waste is not None
    total = 0
    for wall, planned in counts.items():
        net = sum((line.net for line in lines if line.wall == wall), Decimal(0))
        need = with_waste(net, material.waste).quantize(_PLACES, ROUND_CEILING)
        total += sum(_with_spare(planned, by_code, need)[0].values())
    return total


def _splices(material: Material, sticks: Sequence[StickPiece]) -> tuple[tuple[str, str], ...]:
    count = sum(stick.count for stick in sticks if stick.spliced)
    if not count:
        return ()
    lap = material.fact("splice_overlap_mm")
    ends = f"laps of {lap.number:g} mm" if lap and lap.number else "ends butt"
    words = ends if lap else f"{ends}, for the catalog states no lap"
    return (("Spliced, being longer than any stick", f"{count} pieces, {words}"),)


def _proven_sticks(material: str, plan: CutPlan, sticks: KeptSticks | None) -> tuple[tuple[str, str], ...]:
    """What is proven of a plan that a person chose: in shares, for money is not for everyone who builds."""
    chosen_plan = sticks.plan(material) if sticks is not None and plan.working else None
    if sticks is None or chosen_plan is None:
        return ()
    chosen = f"{sticks.by}, {day_words(sticks.on)}" if sticks.on else sticks.by
    gap = chosen_plan.gap
    least = (
        "not proven" if gap is None else f"at most {100 * gap:.2f} % above the proven least" if gap else "proven best"
    )
    return (("Stick plan of this material", least), ("Chosen by", chosen or "nobody named"))


def _saw_gap(material: Material) -> Finding:
    labels = " and ".join(f"“{STANDARD_SPECS[name].label}”" for name in ("saw_kerf_mm", "usable_offcut_mm"))
    sentence = f"The sticks of {material.name} cannot be planned: fill in the standards {labels}."
    return Finding("standards/saw", "gap", sentence)


def _stick_plan(material: Material, wanted: StickList, plans: JobPlans, findings: list[Finding]) -> CutPlan:
    """The plan a person chose while it is fresh, else the quick one."""
    chosen = plans.sticks.plan(material.code) if plans.sticks else None
    if chosen is not None:
        plan, faults = plan_by_kept(wanted, chosen)
        if plan is not None and not faults:
            return plan
        why = f" ({'; '.join(faults[:3])})" if faults else ": its pieces, its sticks or their prices have changed since"
        sentence = (
            f"{material.name}: the stick plan chosen for the job is out of date{why}. "
            "The quick plan is used instead; look for a better plan again."
        )
        source = "Own rule: a plan is used only for what it was made for"
        findings.append(Finding(f"plans/sticks/{material.code}", "caution", sentence, source))
    return plan_cuts(wanted.pieces, wanted.stocks, kerf_mm=wanted.kerf_mm, usable_offcut_mm=wanted.usable_offcut_mm)


def _made_to_length(
    material: Material, sticks: Sequence[StickPiece], lines: Sequence[TakeoffLine], on_day: date
) -> Purchase:
    """Pieces made to order and paid by length: the ordered lengths count, as the maker's rules round them."""
    assert material.waste is not None
    ordered_mm = sum(stick.length_mm * stick.count for stick in sticks)
    ordered = convert(Decimal(repr(ordered_mm)), "mm", material.unit_used).quantize(_PLACES)
    net = sum((line.net for line in lines), Decimal(0))
    waste = (net * material.waste).quantize(_PLACES, ROUND_CEILING)
    need = max(ordered, net + waste)
    chosen = whole_packs(need, material.packs, on_day) if need > 0 else ()
    packs = tuple(_counted(pack, count, on_day) for pack, count in chosen)
    pieces = ", ".join(f"{stick.label}: {format_inches(stick.length_mm)}" for stick in sticks[:12])
    explanation = Explanation(
        "Pieces made to order, each rounded by the maker's length rules, paid by length",
        (
            ("Net length", f"{_shown(net)} {material.unit_used}"),
            ("Pieces", f"{sum(stick.count for stick in sticks)} ({pieces})"),
            ("Ordered length", f"{_shown(ordered)} {material.unit_used}"),
            ("Waste share", f"{_shown(material.waste * 100)} %"),
        ),
        f"Takeoff rules {RULE_VERSION}; the maker's length rules in the catalog",
    )
    return _make(material, lines, waste, packs, explanation)


def _with_spare(planned: Mapping[str, int], by_code: Mapping[str, Pack], need: Decimal) -> tuple[dict[str, int], int]:
    """The planned packs, and more of the one most used until they hold `need`: (counts by pack, how many more)."""
    counts = dict(planned)
    if not counts:
        return counts, 0
    held = sum((by_code[code].quantity * count for code, count in counts.items()), Decimal(0))
    most_used = max(counts, key=lambda code: (counts[code], code))
    spare = max(0, math.ceil((need - held) / by_code[most_used].quantity))
    counts[most_used] += spare
    return counts, spare


def _shared(purchase: Purchase, lines: Sequence[TakeoffLine]) -> Purchase:
    nets: dict[str, Decimal] = {}
    for line in lines:
        nets[line.wall] = nets.get(line.wall, Decimal(0)) + line.net
    charged = purchase.cost_in_all
    if charged is None or not any(nets.values()):
        costs: Sequence[Decimal | None] = [charged if len(nets) == 1 else None] * len(nets)
    else:
        costs = share_out(charged, list(nets.values()))
    shares = tuple(WallShare(wall, net, cost) for (wall, net), cost in zip(nets.items(), costs, strict=True))
    return replace(purchase, shares=shares)


def _shown(value: Decimal) -> str:
    return format(half_up(value, 2).normalize(), "f")
