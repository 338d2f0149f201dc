"""The first step of a price: what the job costs, and the margin on it."""

from quoting.core.prices.costs import CATEGORY_WORDS
from quoting.core.prices.overhead import Contingency, OverheadRule
from quoting.core.prices.pricing import PricingPolicy
from quoting.core.quotes.job_file import CostEntry, EnteredMaterials, HourCost, LabourEntry
from quoting.platform.pages.declared_fields import form_of
from quoting.platform.pages.document_fields import ShareField
from quoting.platform.pages.document_form import Document, document_form, fields_of
from quoting.platform.pages.entry_form import pick
from quoting.quotes.pages.pricing_part import Group, OfAWall, PricingPart

MARKUPS = {
    f"policy-markup-{category}": ShareField(label=f"Markup on {label.lower()}, %", max_length=20)
    for category, label in CATEGORY_WORDS
}
POLICY = {**fields_of(PricingPolicy, "mode", "target_margin", at="policy-"), **MARKUPS}
LEAST = fields_of(PricingPolicy, "minimum_margin", at="policy-")
ON_COSTS = {
    **fields_of(OverheadRule, "share_of_cost", "per_labour_hour", at="overhead-"),
    **fields_of(Contingency, "share", "shown", at="contingency-"),
}
HOURS = fields_of(HourCost, "rate", at="labour_from_hours-")
MATERIALS = fields_of(EnteredMaterials, "amount", "note", at="materials-")


def with_rate_name(document: Document) -> Document:
    """A rate that is typed with letters is the name of one."""
    rate = str(document.get("rate") or "")
    return _without(document, "rate") | {"rate_of": rate} if any(map(str.isalpha, rate)) else document


def rate_offered(document: Document | None) -> Document:
    document = document or {}
    return _without(document, "rate_of") | {"rate": document.get("rate") or document.get("rate_of")}


def _without(document: Document, name: str) -> Document:
    return {key: entry for key, entry in document.items() if key != name}


class UsualCostForm(document_form(POLICY, LEAST, HOURS, ON_COSTS)):  # type: ignore[misc]
    def document(self) -> Document:
        result: Document = super().document()
        policy = result.get("policy", {})
        result["policy"] = _without(policy, "target_margin" if policy.get("mode") == "markup" else "markup")
        hours = result.get("labour_from_hours")
        return result | {"labour_from_hours": with_rate_name(hours) if hours else None}


class CostForm(document_form(POLICY, LEAST, MATERIALS, HOURS, ON_COSTS), UsualCostForm):  # type: ignore[misc]
    def document(self) -> Document:
        return {"materials": "takeoff"} | super().document()


class LabourRow(form_of(LabourEntry, "what", "hours", "rate"), OfAWall):  # type: ignore[misc]
    label, says = "Labour", ("what", "hours")
    stands_at = {"rate_of": "rate"}
    wall = pick("For", ())

    def entries(self) -> Document:
        return with_rate_name(super().entries())


# The page that shows them lists the rates in force under this id.
for rate in (HOURS["labour_from_hours-rate"], LabourRow.base_fields["rate"]):
    rate.widget.attrs["list"] = "labour-rates"


class CostRow(form_of(CostEntry, "what", "amount"), OfAWall):  # type: ignore[misc]
    label, says = "Cost", ("what", "amount")
    wall = pick("For", ())


class UsualCostPart(PricingPart):
    head_of = UsualCostForm
    groups = (
        Group("Margin", (*POLICY, *LEAST), is_open=True),
        Group("Labour", tuple(HOURS), says="the walls' hours at {}"),
        Group("Overhead and contingency", tuple(ON_COSTS)),
    )

    def shown(self, document: Document) -> Document:
        materials, policy = document.get("materials"), document.get("policy") or {}
        return document | {
            "policy": {"mode": "margin"} | policy,
            "labour_from_hours": rate_offered(document.get("labour_from_hours")),
            "materials": materials if isinstance(materials, dict) else {},
            "labour": [rate_offered(row) for row in document.get("labour") or ()],
        }


class CostPart(UsualCostPart):
    head_of = CostForm
    rows_of = {"labour": LabourRow, "subcontract": CostRow, "other": CostRow}
    groups = (
        Group("Margin", (*POLICY, *LEAST), is_open=True),
        Group("Materials", tuple(MATERIALS), nothing="what the walls need"),
        Group("Labour", tuple(HOURS), "labour", says="the walls' hours at {}"),
        Group("Subcontract", rows="subcontract"),
        Group("Other costs", rows="other"),
        Group("Overhead and contingency", tuple(ON_COSTS)),
    )
