"""A pricing as the figures of its rows, and what of it could not be kept exactly."""

from collections.abc import Iterable, Iterator, Mapping

from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.services.row_sync import Figures
from quoting.core.prices.payments import DepositRule, Instalment
from quoting.core.quotes.job_file import EnteredMaterials, PricingSpec
from quoting.platform.models.bounds import MAX_POSITION
from quoting.platform.models.columns import MILLIONTH
from quoting.platform.models.core_values import column_values
from quoting.pricing.models import CostEntry, DepositTerm, Pricing
from quoting.pricing.models.pricing import MARKUPS
from quoting.pricing.models.shares import split_share
from quoting.pricing.services.keepable import not_keepable
from quoting.pricing.services.price_terms import head_terms
from quoting.pricing.services.rate_lookup import NamedRate
from quoting.texts.models.firm_texts import BLOCKS


def head_figures(spec: PricingSpec, names: NamedRate) -> Figures:
    """names: what is kept by its name has the rate of the day."""
    policy, own = spec.policy, None if names.tax else spec.tax
    return {
        **column_values(spec, Pricing),
        **column_values(policy, Pricing),
        **{column: policy.markup_by_category.get(category) for category, column in MARKUPS.items()},
        "hour_rate_name": names.hour if spec.hour_cost is not None else "",
        **head_terms(spec.terms),
        "tax_name": own.name if own else names.tax,
        "tax_rate": own.rate if own else None,
        "tax_applies_to": own.applies_to if own else "",
        "tax_basis": own.basis if own else "",
        "notice_place": spec.notice.place if spec.notice else "",
        "notice_language": spec.notice.language if spec.notice else "",
    }


def cost_figures(spec: PricingSpec, walls: Mapping[str, int], names: NamedRate) -> Iterator[Figures]:
    # Lines of labour come first, one name to each.
    for place, cost in enumerate(spec.costs):
        name = names.labour[place] if place < len(names.labour) else ""
        wall = walls[cost.section] if cost.section else None
        yield column_values(cost, CostEntry, order=place, rate_name=name, wall_id=wall)


def instalment_figures(instalment: Instalment) -> Figures:
    count, parts = split_share(instalment.share)
    return {"event": instalment.event, "share_count": count, "share_parts": parts}


def deposit_figures(rule: DepositRule) -> Figures:
    count, parts = split_share(rule.share)
    legal = (None, None) if rule.legal_share is None else split_share(rule.legal_share)
    shares = {"share_count": count, "share_parts": parts, "legal_share_count": legal[0], "legal_share_parts": legal[1]}
    return column_values(rule, DepositTerm, **shares)


def text_figures(spec: PricingSpec) -> Iterator[Figures]:
    for block in BLOCKS:
        for place, text in enumerate(getattr(spec.texts, block)):
            yield {"block": block, "order": place, "text": text}


def refuse_what_cannot_be_kept(spec: PricingSpec, walls: Iterable[str], path: str) -> None:
    known = {"", *walls}
    complaints = list(not_keepable(spec, path))
    if spec.entered_materials is not None:
        complaints += not_keepable(EnteredMaterials(spec.entered_materials), f"{path}materials.")
    for cost in spec.costs:
        if cost.quantity != cost.quantity.quantize(MILLIONTH):
            reason = f"{cost.quantity} of {cost.what!r} has more than six decimals"
            complaints.append(DocumentProblem(f"{path}labour.hours", reason))
        if cost.section not in known:
            reason = f'"{cost.what}" belongs to wall "{cost.section}", which the job does not have'
            complaints.append(DocumentProblem(f"{path}costs", reason))
    if len(spec.costs) > MAX_POSITION:
        complaints.append(DocumentProblem(f"{path}costs", f"holds {len(spec.costs)} lines; at most {MAX_POSITION}"))
    if complaints:
        raise DocumentError(complaints)
