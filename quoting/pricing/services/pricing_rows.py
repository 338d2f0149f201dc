"""A pricing as the figures of its rows, and what of it could not be kept exactly."""

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from fractions import Fraction

from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.services.row_sync import Figures
from quoting.core.prices.payments import DepositRule
from quoting.core.quotes.job_file import PricingSpec
from quoting.platform.models.bounds import MAX_MONEY, MAX_POSITION
from quoting.platform.models.columns import MILLIONTH
from quoting.pricing.models.pricing import MARKUPS
from quoting.pricing.models.shares import ShareTooFine, split_share
from quoting.pricing.services.price_terms import head_terms, terms_too_fine, terms_too_large
from quoting.pricing.services.rate_lookup import NamedRate
from quoting.texts.models.firm_texts import BLOCKS


def head_figures(spec: PricingSpec, names: NamedRate) -> Figures:
    """names: what is kept by its name has the rate of the day."""
    policy = spec.policy
    markups = {column: policy.markup_by_category.get(category) for category, column in MARKUPS.items()}
    own = None if names.tax else spec.tax
    return {
        "mode": policy.mode,
        "target_margin": policy.target_margin,
        "minimum_margin": policy.minimum_margin,
        **markups,
        "entered_materials": spec.entered_materials,
        "materials_note": spec.materials_note,
        "hour_cost": spec.hour_cost,
        "hour_rate_name": names.hour if spec.hour_cost is not None else "",
        **head_terms(spec.terms),
        "tax_name": own.name if own else names.tax,
        "tax_rate": own.rate if own else None,
        "tax_applies_to": own.applies_to if own else "",
        "tax_basis": own.basis if own else "",
        "special_order_cost": spec.special_order_cost,
        "valid_days": spec.valid_days,
        "notice_place": spec.notice.place if spec.notice else "",
        "notice_language": spec.notice.language if spec.notice else "",
    }


def cost_figures(spec: PricingSpec, walls: Mapping[str, int], names: NamedRate) -> Iterator[Figures]:
    # Lines of labour come first, one name to each.
    for place, cost in enumerate(spec.costs):
        name = names.labour[place] if place < len(names.labour) else ""
        yield {
            "order": place,
            "category": cost.category,
            "what": cost.what,
            "quantity": cost.quantity,
            "unit": cost.unit,
            "unit_cost": cost.unit_cost,
            "rate_name": name,
            "wall_id": walls[cost.section] if cost.section else None,
        }


def instalment_figures(spec: PricingSpec) -> Iterator[Figures]:
    for place, instalment in enumerate(spec.instalments):
        count, parts = split_share(instalment.share)
        yield {"order": place, "event": instalment.event, "share_count": count, "share_parts": parts}


def deposit_figures(rule: DepositRule) -> Figures:
    count, parts = split_share(rule.share)
    legal = (None, None) if rule.legal_share is None else split_share(rule.legal_share)
    return {
        "share_count": count,
        "share_parts": parts,
        "at_most": rule.at_most,
        "covers_special_orders": rule.covers_special_orders,
        "legal_share_count": legal[0],
        "legal_share_parts": legal[1],
        "legal_amount": rule.legal_amount,
    }


def text_figures(spec: PricingSpec) -> Iterator[Figures]:
    for block in BLOCKS:
        for place, text in enumerate(getattr(spec.texts, block)):
            yield {"block": block, "order": place, "text": text}


def left_out_figures(spec: PricingSpec) -> Iterator[Figures]:
    for place, key in enumerate(spec.left_out):
        yield {"order": place, "key": key}


def refuse_what_cannot_be_kept(spec: PricingSpec, walls: Iterable[str], path: str) -> None:
    walls = set(walls)
    complaints = [
        *_too_fine(spec, path),
        *_too_large(spec, path),
        *terms_too_fine(spec.terms, path),
        *terms_too_large(spec.terms, path),
        *(
            DocumentProblem(
                f"{path}costs", f'"{cost.what}" belongs to wall "{cost.section}", which the job does not have'
            )
            for cost in spec.costs
            if cost.section and cost.section not in walls
        ),
    ]
    if len(spec.costs) > MAX_POSITION:
        complaints.append(DocumentProblem(f"{path}costs", f"holds {len(spec.costs)} lines; at most {MAX_POSITION}"))
    if complaints:
        raise DocumentError(complaints)


def _too_fine(spec: PricingSpec, path: str) -> Iterator[DocumentProblem]:
    policy = spec.policy
    figures: dict[str, Decimal | None] = {
        "policy.target_margin": policy.target_margin,
        "policy.minimum_margin": policy.minimum_margin,
        "tax.rate": spec.tax.rate,
        **{f"policy.markup.{category}": value for category, value in policy.markup_by_category.items()},
    }
    for name, value in figures.items():
        if value is not None and value != value.quantize(MILLIONTH):
            yield DocumentProblem(f"{path}{name}", f"{value} has more than six decimals")
    for cost in spec.costs:
        if cost.quantity != cost.quantity.quantize(MILLIONTH):
            yield DocumentProblem(f"{path}labour.hours", f"{cost.quantity} of {cost.what!r} has more than six decimals")
    shares: list[tuple[str, Decimal | Fraction | None]] = [
        (f"instalments[{place}].share", instalment.share) for place, instalment in enumerate(spec.instalments)
    ]
    if spec.deposit:
        shares += [("deposit.share", spec.deposit.share), ("deposit.legal_share", spec.deposit.legal_share)]
    for name, share in shares:
        try:
            split_share(share if share is not None else Decimal(0))
        except ShareTooFine as error:
            yield DocumentProblem(f"{path}{name}", str(error))


def _too_large(spec: PricingSpec, path: str) -> Iterator[DocumentProblem]:
    amounts: dict[str, Decimal | None] = {
        "materials.amount": spec.entered_materials,
        "special_order_cost": spec.special_order_cost,
    }
    if spec.deposit:
        amounts |= {"deposit.at_most": spec.deposit.at_most, "deposit.legal_amount": spec.deposit.legal_amount}
    for name, amount in amounts.items():
        if amount is not None and amount > MAX_MONEY:
            yield DocumentProblem(f"{path}{name}", f"{amount:,} is too large; at most {MAX_MONEY:,}")
