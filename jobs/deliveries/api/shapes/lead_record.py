"""What the API shows of the lead-time record of a material, and of how a supplier delivers."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Annotated

from catalog.core.ground.declared import As, Declared, Items, Of, Part, Rounded, View, write
from catalog.core.leads import lead_record, planned_leads, supplier_score
from catalog.services.planned_leads import PlanToAccept
from quoting.platform.api.declared import answer_shapes, request_shapes

PLANNED = Part("PlannedLead", write)


class KeptShare(View):
    """How many orders came within the days that would have been planned when they were placed."""

    kept: int
    judged: int
    share: float | None


class LeadReceipt(View):
    """An order line as it came; its days are its age while some of it is still to come."""

    received_on: Annotated[
        date | None,
        Of(lambda receipt: None if receipt.is_open else receipt.received_on),
        "Empty while some of it is still to come.",
    ]
    ordered_on: date | None
    quoted_workdays: int
    actual_workdays: int
    ratio: Annotated[float, Rounded(6)]


class SuggestedLead(View):
    """Working days of the supplier from order to arrival."""

    quoted_workdays: int
    confidence: float
    plan_workdays: int
    exact_workdays: Annotated[float, Rounded(2)]
    sentence: str
    receipts: Annotated[tuple[LeadReceipt, ...], Of("used")]
    kept: KeptShare


@dataclass(frozen=True)
class LeadRecord:
    """What the record suggests to plan a material with, and what was accepted."""

    material: str
    suggestion: Annotated[lead_record.LeadEvidence | None, Declared(SuggestedLead), "Empty while nothing is quoted."]
    kept_by_all: Annotated[lead_record.KeptShare, Declared(KeptShare)]
    standing: Annotated[planned_leads.PlannedLead | None, PLANNED, "It dates orders unless `stale`."]
    stale: Annotated[bool, "Accepted against another quote or supplier than now."]
    accepted: Annotated[Sequence[planned_leads.PlannedLead], Items(PLANNED)]


class ReceiptsScored(View):
    """How the receipts of a supplier stand to its promises."""

    receipts: int
    promised: int
    kept: int
    on_the_day: int
    early: int
    late: int
    median_early_workdays: float | None
    median_late_workdays: float | None
    damaged: int
    wrong: int


@dataclass(frozen=True)
class SupplierScore:
    """Each receipt of an order line counts once. Early and late are the supplier's working days from the promise."""

    supplier: str
    score: Annotated[supplier_score.SupplierScore, Declared(ReceiptsScored), As(spread=True)]


SHAPES = answer_shapes(LeadRecord, SupplierScore) | request_shapes(PlanToAccept)
