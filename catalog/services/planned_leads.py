"""Days to plan with, suggested from the record and accepted by a person. The record itself is handed in: what came
of orders is not part of the catalog."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated

from django.db import transaction

from catalog.core.ground.declared import Number, Whole, entry_of, read
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import Refused
from catalog.core.leads import planned_leads
from catalog.core.leads.lead_record import MAX_CONFIDENCE, MIN_CONFIDENCE, LeadEvidence, LeadReceipt, planned_lead
from catalog.core.leads.lead_times import LeadTerm, lead_workdays, term_in_force
from catalog.core.leads.planned_leads import planned_in_force
from catalog.core.materials import specs
from catalog.models import Material, PlannedLead
from catalog.services.book import materials_with_parts
from quoting.platform.models.columns import normalized, quantized
from quoting.platform.models.core_values import column_values

USUAL_CONFIDENCE = Decimal("0.9")


@dataclass(frozen=True)
class Suggestion:
    """What the record suggests for a material as it is quoted now."""

    term: LeadTerm
    supplier: str
    evidence: LeadEvidence


def suggestion(
    spec: specs.Material, receipts: Iterable[LeadReceipt], today: date, confidence: Decimal = USUAL_CONFIDENCE
) -> Suggestion | None:
    """None while nothing is quoted, or nothing but "at once": then there is nothing to learn a ratio for."""
    term = term_in_force(spec.lead_terms, today)
    if term is None or spec.supplier is None or not lead_workdays(term):
        return None
    evidence = planned_lead(
        lead_workdays(term), receipts, supplier=spec.supplier, material=spec.code, confidence=float(confidence)
    )
    return Suggestion(term, spec.supplier, evidence)


@dataclass(frozen=True)
class PlanToAccept:
    """Days as they were seen, and the confidence they were suggested at."""

    plan_workdays: Annotated[int, Whole(1, planned_leads.MAX_PLAN_WORKDAYS), "As you saw them."]
    confidence: Annotated[
        Decimal, Number(str(MIN_CONFIDENCE), str(MAX_CONFIDENCE)), "That they were suggested at; 0.9 when not said."
    ] = USUAL_CONFIDENCE


def read_acceptance(reader: Reader) -> tuple[int, Decimal]:
    """A PlanToAccept; the confidence as its column keeps it."""
    seen = read(PlanToAccept, reader)
    return seen.plan_workdays, normalized(quantized(seen.confidence))


def read_confidence(reader: Reader) -> Decimal:
    """The same of a query, to be finished by whoever reads it."""
    share: Decimal = entry_of(PlanToAccept, "confidence").read(reader)
    return normalized(quantized(share))


@transaction.atomic
def accept_planned_lead(
    code: str, seen: tuple[int, Decimal], receipts: Iterable[LeadReceipt], *, by: str, on: date
) -> tuple[PlannedLead, bool]:
    """Accept what is suggested, if it still is what was seen. Safe to repeat.

    Returns what stands, and whether it is new.
    """
    row = _held(code)
    days, confidence = seen
    result = suggestion(row.to_core(), receipts, on, confidence)
    if result is None:
        raise Refused(f"Nothing is quoted for {row.name}; enter its supplier and what it says first.")
    if result.evidence.plan_workdays != days:
        raise Refused(
            f"{days} working days were to be accepted for {row.name}, but the record suggests "
            f"{result.evidence.plan_workdays} now: {result.evidence.sentence}. Look again and accept that."
        )
    plan = as_plan(result, confidence, by, on)
    present = row.planned_leads.filter(ended_on=None).first()
    if present is not None:
        if _says_the_same(present.to_core(), plan):
            return present, False
        _end(present, by, on)
    return PlannedLead.objects.create(material=row, **_figures(plan)), True


@transaction.atomic
def end_planned_lead(code: str, *, by: str, on: date) -> PlannedLead | None:
    """Plan with the quoted days again; None where nothing was accepted, or it has been ended already."""
    present = _held(code).planned_leads.filter(ended_on=None).first()
    if present is not None:
        _end(present, by, on)
    return present


def as_plan(result: Suggestion, confidence: Decimal, by: str, on: date) -> planned_leads.PlannedLead:
    evidence = result.evidence
    ratios = tuple(quantized(ratio) for ratio in evidence.ratios)
    sentence = evidence.sentence[: planned_leads.MAX_EVIDENCE]
    return planned_leads.accept(
        evidence.plan_workdays, result.term, result.supplier, confidence, sentence, ratios, by, on
    )


def standing_plan(spec: specs.Material, today: date) -> tuple[planned_leads.PlannedLead | None, bool]:
    """The accepted days that are in force, and whether they are stale: accepted against another quote or supplier."""
    plan, term = planned_in_force(spec.planned_leads, today), term_in_force(spec.lead_terms, today)
    return plan, plan is not None and (term is None or not plan.holds_for(term, spec.supplier))


def _held(code: str) -> Material:
    Material.objects.select_for_update().get(code=code)
    return materials_with_parts().get(code=code)


def _end(row: PlannedLead, by: str, on: date) -> None:
    # Never before it began, should the clock have been put back.
    row.ended_on, row.ended_by_name = max(on, row.accepted_on), by
    row.save()


def _says_the_same(present: planned_leads.PlannedLead, plan: planned_leads.PlannedLead) -> bool:
    named = ("plan_workdays", "confidence", "supplier", "production_days", "production_counts", "transit_workdays")
    return all(getattr(present, name) == getattr(plan, name) for name in named)


def _figures(plan: planned_leads.PlannedLead) -> dict[str, object]:
    ratios = [format(ratio.normalize(), "f") for ratio in plan.ratios]
    return column_values(plan, PlannedLead, ratios=ratios, accepted_by_name=plan.accepted_by)
