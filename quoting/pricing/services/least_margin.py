"""What the firm asks of every price: its least margin, its checklist; and the second person who lets one pass."""

from dataclasses import replace
from datetime import datetime
from typing import Any

from catalog.core.ground.refusal import Refused
from jobs.core.measure.findings import Finding
from jobs.jobs.models import Job
from jobs.needs.services.schedule_refresh import ask_to_date
from quoting.core.prices.checklist import USUAL_ITEMS, complete_checklist
from quoting.core.prices.margin_gate import BelowLeast
from quoting.core.quotes.job_file import PricingSpec
from quoting.core.quotes.offering import GATE
from quoting.core.quotes.quote_sheet import QuoteSheet
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.formatting import day_words
from quoting.platform.models.columns import normalized, quantized
from quoting.platform.people.models import Person
from quoting.pricing.models import ChecklistAnswer, MarginApproval, Pricing

MAX_REASON = 2000


def as_the_firm_asks(spec: PricingSpec) -> PricingSpec:
    """The pricing with the firm's least margin where its own is lower, and every item of the firm's checklist."""
    usual = Pricing.objects.filter(job=None).prefetch_related("checklist").first()
    items = [row.item for row in usual.checklist.all()] if usual else []
    terms = replace(spec.terms, checklist=complete_checklist(spec.terms.checklist, items or USUAL_ITEMS))
    least = [spec.policy.minimum_margin, normalized(usual.minimum_margin) if usual and usual.minimum_margin else None]
    greatest = max((amount for amount in least if amount is not None), default=None)
    return replace(spec, terms=terms, policy=replace(spec.policy, minimum_margin=greatest))


def checklist_offered(entries: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """What a form asks: the entries of the document, and what else is on the firm's or the usual list."""
    items = list(ChecklistAnswer.objects.filter(pricing__job=None).values_list("item", flat=True)) or USUAL_ITEMS
    present = {str(entry["item"]).casefold() for entry in entries}
    return [*entries, *({"item": item} for item in items if item.casefold() not in present)]


def approval_for(job: Job, gate: BelowLeast, *, issuer: Person | None = None) -> MarginApproval | None:
    """The latest approval that holds for these figures; with an issuer, one by somebody else."""
    rows = MarginApproval.objects.filter(job=job)
    if issuer is not None:
        rows = rows.exclude(by=issuer)
    stands = replace(gate, margin=quantized(gate.margin))
    return next((row for row in rows if stands.is_covered_by(row.margin, row.shortfall)), None)


def with_approval(job: Job, sheet: QuoteSheet) -> QuoteSheet:
    """The quote with the wait for a second person answered, where one has approved these figures."""
    approval = approval_for(job, sheet.gate) if sheet.gate else None
    if approval is None:
        return sheet
    message = (
        f"The margin is below the firm's least margin. Approved by {approval.by_name} on "
        f"{day_words(day_at_the_firm(approval.at))}: {approval.reason}"
    )
    findings = tuple(
        Finding(GATE, "caution", message) if finding.key == GATE else finding for finding in sheet.findings
    )
    return replace(sheet, findings=findings)


def record_approval(
    job: Job, sheet: QuoteSheet | None, *, mark: str, reason: str, by: Person, now: datetime
) -> MarginApproval:
    """Keep who lets these figures pass, and why; asked twice it is kept once. mark: of the figures."""
    reason = reason.strip()
    if not 0 < len(reason) <= MAX_REASON:
        raise Refused(f"Say why, in 1 to {MAX_REASON:,} characters.")
    if sheet is None or sheet.priced is None or sheet.gate is None:
        raise Refused("The margin is not below the firm's least margin; there is nothing to approve.")
    gate, priced = sheet.gate, sheet.priced
    figures = {
        "price": priced.price,
        "cost": priced.cost,
        "margin": quantized(gate.margin),
        "least_margin": quantized(gate.least),
        "shortfall": gate.shortfall,
        "reason": reason,
        "by_name": by.full_name,
        "at": now,
    }
    row, _ = MarginApproval.objects.get_or_create(job=job, by=by, figures_mark=mark, defaults=figures)
    ask_to_date([job.pk], now)
    return row
