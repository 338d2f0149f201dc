"""What the client may choose among, frozen with the revision: total and instalments of a choice follow from it."""

from collections.abc import Collection
from decimal import Decimal
from fractions import Fraction
from typing import Any

from quoting.core.prices.options import Offer, OfferTotal, PricedOption, total_with
from quoting.core.prices.payments import DepositRule, Instalment
from quoting.core.prices.tax import PriceLine, TaxRule
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.snapshots import snapshot_of

Document = dict[str, Any]


def offer_of(revision: QuoteRevision) -> Offer:
    """As it was issued. Raises SnapshotChanged when what was kept is not what was issued."""
    return read_offer(snapshot_of(revision)["offer"])


def total_of(revision: QuoteRevision, chosen: Collection[str]) -> OfferTotal:
    """What the revision comes to with these options; OptionError for a choice that cannot be."""
    return total_with(offer_of(revision), chosen)


def write_offer(offer: Offer) -> Document:
    rule = offer.deposit
    return {
        "lines": [_written(line, "section", "price", "taxed", "tax") for line in offer.lines],
        "tax": _written(offer.tax, "name", "rate", "applies_to", "basis", "exempt_certificate"),
        "options": [
            _written(option, "key", "title", "price", "taxed", "group", "text", "cost", "special_order_cost")
            for option in offer.options
        ],
        "instalments": [_written(instalment, "event", "share") for instalment in offer.instalments],
        "deposit": None
        if rule is None
        else _written(rule, "share", "at_most", "covers_special_orders", "legal_share", "legal_amount"),
        "special_order_cost": str(offer.special_order_cost),
    }


def read_offer(document: Document) -> Offer:
    rule = document["deposit"]
    return Offer(
        lines=tuple(PriceLine(**_money(entry, "price", "taxed", "tax")) for entry in document["lines"]),
        tax=TaxRule(**_money(document["tax"], "rate")),
        options=tuple(
            PricedOption(**_money(entry, "price", "taxed", "cost", "special_order_cost"))
            for entry in document["options"]
        ),
        instalments=tuple(Instalment(entry["event"], _share(entry["share"])) for entry in document["instalments"]),
        deposit=None
        if rule is None
        else DepositRule(
            **_money(rule, "at_most", "legal_amount")
            | {"share": _share(rule["share"]), "legal_share": rule["legal_share"] and _share(rule["legal_share"])}
        ),
        special_order_cost=Decimal(document["special_order_cost"]),
    )


def _written(value: Any, *names: str) -> Document:
    document = {name: getattr(value, name) for name in names}
    return {name: str(entry) if isinstance(entry, Decimal | Fraction) else entry for name, entry in document.items()}


def _money(document: Document, *names: str) -> Document:
    return document | {name: None if document[name] is None else Decimal(document[name]) for name in names}


def _share(text: str) -> Decimal | Fraction:
    return Fraction(text) if "/" in text else Decimal(text)
