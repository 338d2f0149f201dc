"""What a quote says: scope in words, prices, tax, instalments, days, and what stands in the way of issuing it.

Nothing here names a cost, a margin or a supplier in what is meant for the client; `priced` is for the office.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import ROUND_HALF_UP, Decimal

from catalog.core.materials.specs import INVENTED_PRICE
from jobs.core.measure.bending import BendCheck
from jobs.core.measure.explanation import Explanation
from jobs.core.measure.findings import Finding
from jobs.core.schedule.activities import ActivityPlan, hours_gaps
from jobs.core.takeoff.takeoff import Purchase, Takeoff
from jobs.core.takeoff.wall_work_up import WallWorkUp
from quoting.core.prices.checklist import ChecklistEntry, complete_checklist, labour_is_open, open_items
from quoting.core.prices.costs import CostLine, cost_line
from quoting.core.prices.figures import PricingError
from quoting.core.prices.margin_gate import BelowLeast
from quoting.core.prices.options import Offer, PricedOption
from quoting.core.prices.overhead import CONTINGENCY, contingency_line, overhead_line
from quoting.core.prices.payments import Deposit, credit_deposit, deposit
from quoting.core.prices.pricing import PricedQuote, price_quote
from quoting.core.quotes.firm_texts import NO_SENTENCES, NoticePack, QuoteTexts, notice_of_quote, texts_of_quote
from quoting.core.quotes.job_file import JobFile, PricingSpec
from quoting.core.quotes.scope import TrimScope, trim_rows

ON_COSTS = "pricing/on-costs"
NOTHING_LEFT_OUT = Finding(
    "pricing/not-included",
    "caution",
    "Nothing is named as not included. Say what others do, such as electrical work, doors or floors.",
)


@dataclass(frozen=True)
class StepCost:
    """One step of the work as labour: how its hours came about, and the line of cost they make."""

    why: Explanation
    line: CostLine


@dataclass(frozen=True)
class QuoteSheet:
    """A quote as far as it can be worked out.

    priced: None while a gap stands in the way; `findings` then says which. deposit: None when no rule is set.
    valid_until: the last day on which it can be accepted, in the firm's time zone. hours: the walls' own hours,
    step by step, when labour is taken from them; their lines stand among `costs`. texts: the firm's standing
    sentences of the day with those of the job. notice: the version in force that the quote carries, None for none.
    checklist: all that is asked of what gets forgotten, with the answers. options: what the client may tick, priced.
    offer: what the total of any choice is worked out from (`quoting.core.prices.options`); None while there
    is no price.
    gate: how far the quote, or some choice of its options, is below the least margin; None when none is.
    """

    trim: tuple[TrimScope, ...]
    costs: tuple[CostLine, ...]
    priced: PricedQuote | None
    deposit: Deposit | None
    pricing: PricingSpec
    quoted_on: date
    valid_until: date
    exempt_certificate: str | None
    findings: tuple[Finding, ...]
    hours: tuple[StepCost, ...] = ()
    texts: QuoteTexts = NO_SENTENCES
    notice: NoticePack | None = None
    checklist: tuple[ChecklistEntry, ...] = ()
    options: tuple[PricedOption, ...] = ()
    offer: Offer | None = None
    gate: BelowLeast | None = None

    @property
    def blocking(self) -> tuple[Finding, ...]:
        """What must be filled in or decided before the quote can be issued."""
        return tuple(finding for finding in self.findings if finding.weight in ("gap", "decide"))


def sheet_of(
    read: JobFile, walls: Sequence[WallWorkUp], takeoff: Takeoff, plan: ActivityPlan, today: date
) -> QuoteSheet:
    """Work out the quote of a job.

    read: the job file; it must hold pricing (else ValueError). walls, takeoff, plan: worked up from it. today: the
    day it would be issued. Returns the quote; what cannot be priced is a finding, never a zero.
    Source: own convention; markup and margin as in `quoting.core.prices.pricing`.
    """
    pricing = read.pricing
    if pricing is None:
        raise ValueError("this job is not priced yet: it has no pricing")
    findings = list(takeoff.findings)
    hours = _hours(pricing, walls, plan, findings)
    costs = (*_costs(read, pricing, takeoff, findings), *(step.line for step in hours or ()))
    costs = (*costs, *_on_costs(pricing, costs, findings))
    checklist = complete_checklist(pricing.terms.checklist)
    certificate = read.job.client.tax_exempt_certificate
    priced, wanted = (None, None) if hours is None else _price(read, pricing, costs, takeoff, certificate, findings)
    findings.extend(_invented_prices(read, takeoff, today))
    findings.extend(_forgotten(checklist, costs, hours_are_known=hours is not None))
    texts = texts_of_quote(read.texts, pricing.texts, pricing.left_out, today)
    findings.extend([] if texts.exclusions else [NOTHING_LEFT_OUT])
    notice, text = notice_of_quote(read.texts, pricing.notice, today)
    findings.extend(text)
    return QuoteSheet(
        tuple(row for wall in walls for row in trim_rows(wall, read.book)),
        costs,
        priced,
        wanted,
        pricing,
        today,
        today + timedelta(days=pricing.valid_days),
        certificate,
        tuple({finding.key: finding for finding in findings}.values()),
        hours or (),
        texts,
        notice,
        checklist,
    )


def _hours(
    pricing: PricingSpec, walls: Sequence[WallWorkUp], plan: ActivityPlan, findings: list[Finding]
) -> tuple[StepCost, ...] | None:
    """The walls' hours as lines of cost, to a tenth of an hour; None when a gap leaves some of the hours out."""
    if pricing.hour_cost is None:
        return ()
    gaps = hours_gaps(plan, walls)
    if not walls:
        gaps = (Finding("pricing/labour_from_hours", "gap", "Labour comes from the walls, and there is none yet."),)
    if gaps:
        findings.extend(gaps)
        return None
    if any(cost.category == "labour" for cost in pricing.costs):
        findings.append(
            Finding(
                "pricing/labour-twice",
                "caution",
                "Labour is taken from the walls' hours and entered by hand as well; see that no hour stands in both.",
            )
        )
    steps = []
    for activity in plan.activities:
        hours = Decimal(repr(activity.hours)).quantize(Decimal("0.1"), ROUND_HALF_UP)
        if hours:
            line = cost_line("labour", activity.name, hours, "h", pricing.hour_cost)
            steps.append(StepCost(activity.explanation, line))
    return tuple(steps)


def _costs(read: JobFile, pricing: PricingSpec, takeoff: Takeoff, findings: list[Finding]) -> tuple[CostLine, ...]:
    names = {wall.key: wall.name for wall in read.job.walls}
    if pricing.entered_materials is not None:
        note = pricing.materials_note or "Materials as entered"
        material_lines = [cost_line("materials", note, Decimal(1), "sum", pricing.entered_materials)]
    else:
        material_lines = [
            cost_line("materials", purchase.name, Decimal(1), "sum", share.cost, names.get(share.wall, ""))
            for purchase in takeoff.purchases
            for share in purchase.shares
            if share.cost
        ]
        if takeoff.cost is None and not any(finding.weight == "gap" for finding in findings):
            findings.append(Finding("pricing/materials", "gap", "The cost of materials has a gap; see the takeoff."))
    return (*material_lines, *pricing.costs)


def _invented_prices(read: JobFile, takeoff: Takeoff, today: date) -> list[Finding]:
    """Prices of the starter list let a wall be tried; a quote that rests on them says so."""
    if read.pricing is None or read.pricing.entered_materials is not None:
        return []
    names = [purchase.name for purchase in takeoff.purchases if _is_invented(read, purchase, today)]
    if not names:
        return []
    more = f" and {len(names) - 3} more" if len(names) > 3 else ""
    message = (
        f"The prices of {len(names)} materials are the starter list's, which are invented: {'; '.join(names[:3])}"
        f"{more}. Enter your own in the catalog before a client relies on this quote."
    )
    return [Finding("pricing/invented-prices", "caution", message)]


def _is_invented(read: JobFile, purchase: Purchase, today: date) -> bool:
    material = read.book.materials.get(purchase.material)
    packs = {pack.pack for pack in purchase.packs}
    prices = [pack.price_on(today) for pack in material.packs if pack.code in packs] if material else []
    return any(price is not None and price.source == INVENTED_PRICE for price in prices)


def _on_costs(pricing: PricingSpec, costs: tuple[CostLine, ...], findings: list[Finding]) -> tuple[CostLine, ...]:
    """Contingency and overhead, each worked out on the costs before either."""
    contingency, overhead = pricing.terms.contingency, pricing.terms.overhead
    try:
        return (
            *([contingency_line(costs, contingency)] if contingency else []),
            *([overhead_line(costs, overhead)] if overhead else []),
        )
    except PricingError as error:
        findings.append(Finding(ON_COSTS, "gap", str(error)))
        return ()


def _forgotten(
    checklist: Sequence[ChecklistEntry], costs: Sequence[CostLine], *, hours_are_known: bool
) -> list[Finding]:
    findings = []
    waiting = open_items(checklist, costs)
    if waiting:
        message = f"Usual extras: {', '.join(waiting)}. For each: amount, included or not needed."
        findings.append(Finding("pricing/checklist", "decide", message))
    if hours_are_known and labour_is_open(checklist, costs):
        message = 'The price holds no labour. Enter hours, or add "Labour" to the usual extras as not needed.'
        findings.append(Finding("pricing/no-labour", "decide", message))
    return findings


def _price(
    read: JobFile,
    pricing: PricingSpec,
    costs: tuple[CostLine, ...],
    takeoff: Takeoff,
    certificate: str | None,
    findings: list[Finding],
) -> tuple[PricedQuote | None, Deposit | None]:
    stopped = pricing.entered_materials is None and any(finding.weight == "gap" for finding in findings)
    if stopped or any(finding.key == ON_COSTS for finding in findings):
        return None, None
    tax = replace(pricing.tax, exempt_certificate=certificate or "")
    costed = {cost.section for cost in costs}
    sections = [wall.name for wall in read.job.walls if wall.name in costed]
    try:
        priced = price_quote(
            costs,
            pricing.policy,
            tax,
            sections=sections,
            instalments=pricing.instalments,
            whole_job=read.job.title,
            apart=(CONTINGENCY,),
            allowances=pricing.terms.allowances,
        )
    except PricingError as error:
        findings.append(Finding("pricing", "gap", str(error)))
        return None, None
    if pricing.deposit is None:
        return priced, None
    special = pricing.special_order_cost
    if special is None:
        special = _special_orders(takeoff)
    if special is None:
        message = "The deposit is to cover the special orders, and one of them has no cost; enter what they cost."
        findings.append(Finding("pricing/special-orders", "gap", message))
        return priced, None
    wanted = deposit(priced.price, special, pricing.deposit)
    findings.extend(
        Finding(f"pricing/deposit-{number}", "caution", warning) for number, warning in enumerate(wanted.warnings, 1)
    )
    return replace(priced, instalments=credit_deposit(priced.instalments, wanted.amount)), wanted


def _special_orders(takeoff: Takeoff) -> Decimal | None:
    """What everything not stocked costs, None while one of them has no cost."""
    costs = [purchase.cost for purchase in takeoff.purchases if purchase.supply != "stocked"]
    return None if None in costs else sum((cost for cost in costs if cost is not None), Decimal("0.00"))


def overridden(checks: Sequence[BendCheck]) -> tuple[str, ...]:
    """Sentences on bends a named person has decided to go ahead with, for the office.

    >>> overridden(())
    ()
    """
    return tuple(check.sentence for check in checks if check.verdict == "overridden")
