"""The catalog's part of a job file: firm, standards, suppliers and materials, read and written."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any, TypeVar
from zoneinfo import available_timezones

from catalog.core.ground.day_words import day_words
from catalog.core.ground.document_reader import DocumentError, Reader, read_all
from catalog.core.ground.units import UNITS
from catalog.core.ground.workdays import CalendarError, Closure
from catalog.core.leads.lead_times import LeadTerm, LeadTermError, parse_duration
from catalog.core.leads.order_terms import MAX_CLAIM_DAYS, MAX_RUSH_CUSHION_WORKDAYS, OrderTerms, OrderTermsError
from catalog.core.leads.planned_lead_document import read_planned_lead, write_planned_lead, write_production
from catalog.core.materials.profiles import FORMS, GRADES, MAX_CORNERS, MAX_ROWS, POSITIONS, ProfileCard, WidthLimit
from catalog.core.materials.specs import (
    KINDS,
    OWN_KIND,
    PROPERTIES,
    ROLES,
    ROLES_OF_SEVERAL,
    SUPPLIES,
    SURENESS,
    Fact,
    Firm,
    Material,
    Offer,
    Pack,
    Price,
    SpecError,
    Supplier,
)
from catalog.core.materials.standards import STANDARD_SPECS, SpacingStep, Standards, starter_standards

T = TypeVar("T")
WIDTH_LIMITS = ("to_width", "least_radius", "hard_least_radius", "flex_inside", "flex_outside")
Document = dict[str, Any]


def built(reader: Reader, make: Callable[[], T]) -> T:
    """Build a core value; what it refuses is told with the path of the object it came from."""
    try:
        return make()
    except (SpecError, CalendarError, LeadTermError, OrderTermsError) as error:
        raise reader.error("", str(error)) from error


def write_length(length_mm: float) -> str:
    """A length exactly as stored, for a document.

    >>> write_length(4267.2)
    '4267.2 mm'
    """
    return f"{format(Decimal(repr(length_mm)).normalize(), 'f')} mm"


def read_closure(reader: Reader) -> Closure:
    """One closure: `day`, or `first` and `last`, and a reason."""
    reason = reader.text("reason", "")
    if reader.has("day"):
        day = reader.day("day")
        return Closure(day, day, reason)
    first, last = reader.day("first"), reader.day("last")
    return built(reader, lambda: Closure(first, last, reason))


def write_closure(closure: Closure) -> Document:
    return {
        "first": closure.first_day.isoformat(),
        "last": closure.last_day.isoformat(),
        "reason": closure.reason,
    }


def read_fact(reader: Reader, unit: str) -> Fact:
    """A sourced figure; a length may be given with its unit."""
    if unit == "mm" and isinstance(reader.raw("value"), str):
        value = Decimal(repr(reader.length_of("value", reader.raw("value"))))
    elif unit == "money" and isinstance(reader.raw("value"), str):
        value = reader.money("value")
    else:
        value = reader.decimal("value", "0", "1000000")
    source, sure = reader.text("source"), reader.choice("sure", SURENESS)
    stated_on = reader.optional_day("stated_on")
    fact = built(reader, lambda: Fact(value, source, sure, stated_on))
    reader.finish()
    return fact


def write_fact(fact: Fact, unit: str) -> Document:
    """A length carries its unit, so that it reads back the same whatever the unit of the document."""
    value = format(fact.value.normalize(), "f")
    return {
        "value": f"{value} mm" if unit == "mm" else value,
        "source": fact.source,
        "sure": fact.sure,
        "stated_on": _day(fact.stated_on),
    }


def _facts(reader: Reader, name: str, units: Callable[[str], str | None]) -> dict[str, Fact]:
    inner = reader.optional_object(name)
    if inner is None:
        return {}
    facts = {}
    for key in inner.names():
        unit = units(key)
        if unit is None:
            raise inner.error(key, "is not a name known here")
        facts[key] = read_fact(inner.object(key), unit)
    return facts


def read_price(reader: Reader) -> Price:
    amount, starts_on = reader.money("amount"), reader.day("starts_on")
    source, held = reader.text("source", ""), reader.optional_day("held_until")
    return built(reader, lambda: Price(amount, starts_on, source, held))


def read_pack(reader: Reader) -> Pack:
    code, label = reader.text("code", longest=60), reader.text("label", longest=200)
    quantity = reader.decimal("quantity", "0.000001", "1000000")
    prices = reader.items("prices", read_price)
    length, width = reader.optional_length("length"), reader.optional_length("width")
    return built(reader, lambda: Pack(code, label, quantity, prices, length, width))


def read_lead_term(reader: Reader) -> LeadTerm:
    try:
        production = parse_duration(reader.text("production"), what="production")
    except LeadTermError as error:
        raise reader.error("production", str(error)) from error
    transit = reader.whole("transit_workdays", 0, 250)
    source, stated_on = reader.text("source"), reader.day("stated_on")
    by = reader.text("stated_by", "")
    return built(reader, lambda: LeadTerm(production.days, production.counts, transit, source, stated_on, by))


def read_material(reader: Reader) -> Material:
    """One material with its packs, prices, facts and lead terms."""
    code, name = reader.text("code", longest=60), reader.text("name", longest=200)
    kind = reader.choice("kind", KINDS)
    own_kind = _own_kind(reader, kind)
    supply = reader.choice("supply", SUPPLIES, "stocked")
    unit_used, unit_bought = reader.choice("unit_used", UNITS), reader.text("unit_bought", longest=40)
    waste = reader.optional_decimal("waste", "0", "1.99")
    packs = reader.items("packs", read_pack)

    def unit_of(name: str) -> str | None:
        known = PROPERTIES.get(name)
        return known.unit if known else None

    facts = _facts(reader, "facts", unit_of)
    supplier = reader.optional_text("supplier")
    terms = reader.items("lead_terms", read_lead_term)
    cushion = reader.optional_whole("cushion_workdays", 0, 250)
    sign_off = reader.optional_whole("sign_off_workdays", 0, 250)
    card = reader.optional_object("profile")
    profile = read_profile(card) if card else None
    planned = reader.items("planned_leads", read_planned_lead)
    offers = reader.items("offers", read_offer, 50)
    return built(
        reader,
        lambda: Material(
            code,
            name,
            kind,
            supply,
            unit_used,
            unit_bought,
            waste,
            packs,
            facts,
            supplier,
            terms,
            cushion,
            sign_off,
            profile,
            planned,
            own_kind,
            offers,
        ),
    )


def read_offer(reader: Reader) -> Offer:
    """What a supplier beside the preferred one asks: its lead terms, and prices each of a pack by its code."""
    supplier = reader.text("supplier", longest=60)
    terms = reader.items("lead_terms", read_lead_term)
    prices: dict[str, tuple[Price, ...]] = {}
    for pack, price in reader.items("prices", lambda entry: (entry.text("pack", longest=60), read_price(entry))):
        if price.starts_on in [known.starts_on for known in prices.get(pack, ())]:
            raise reader.error(
                "prices", f"two prices of {pack} start on {day_words(price.starts_on)}; give each its own day"
            )
        prices[pack] = (*prices.get(pack, ()), price)
    reader.finish()
    return Offer(supplier, terms, prices)


def write_offer(offer: Offer) -> Document:
    """The offer as a document that `read_offer` reads back the same."""
    return {
        "supplier": offer.supplier,
        "lead_terms": [_write_lead_term(term) for term in offer.lead_terms],
        "prices": [{"pack": pack, **_write_price(price)} for pack, prices in offer.prices.items() for price in prices],
    }


def _own_kind(reader: Reader, kind: str) -> str:
    own_kind = reader.text("own_kind", "", longest=60)
    if kind == OWN_KIND and not own_kind.strip():
        raise reader.error("own_kind", "is missing; name the firm's own kind, such as Adhesive")
    if kind != OWN_KIND and own_kind:
        raise reader.error("own_kind", f"is for a material of the kind {OWN_KIND} alone; leave it out")
    return own_kind


def read_profile(reader: Reader) -> ProfileCard:
    """A profile card: shape, forms, grades, splice, section and the maker's limits by width."""
    shape, splice = reader.text("shape", "", longest=200), reader.text("splice", "")
    forms, grades = _choices(reader, "forms", FORMS), _choices(reader, "grades", GRADES)
    positions = _choices(reader, "positions", POSITIONS)
    section = tuple(_corner(reader, n, entry) for n, entry in enumerate(reader.values("section", MAX_CORNERS)))
    limits = reader.items("limits", _width_limit, most=MAX_ROWS)
    source, sure = reader.text("limits_source", ""), reader.optional_choice("limits_sure", SURENESS)
    card = built(reader, lambda: ProfileCard(shape, forms, grades, splice, section, limits, source, sure, positions))
    reader.finish()
    return card


def _choices(reader: Reader, name: str, among: tuple[T, ...]) -> tuple[T, ...]:
    choices = []
    for place, value in enumerate(reader.values(name, len(among))):
        if value not in among:
            raise reader.error(
                f"{name}[{place}]", f"{value!r} is not one of {', '.join(str(entry) for entry in among)}"
            )
        choices.append(value)
    return tuple(choices)


def _corner(reader: Reader, place: int, value: Any) -> tuple[float, float]:
    name = f"section[{place}]"
    if not isinstance(value, list) or len(value) != 2:
        raise reader.error(name, "must be two lengths, [out from the back, up from the foot]")
    out, up = (reader.length_of(name, entry) for entry in value)
    return out, up


def _width_limit(reader: Reader) -> WidthLimit:
    figures = {f"{name}_mm": _exact(reader, name) for name in WIDTH_LIMITS}
    width = figures.pop("to_width_mm")
    if width is None:
        raise reader.error("to_width", "is missing")
    return built(reader, lambda: WidthLimit(width, **figures))


def _exact(reader: Reader, name: str) -> Decimal | None:
    length_mm = reader.optional_length(name)
    return None if length_mm is None else Decimal(repr(length_mm))


def write_profile(card: ProfileCard) -> Document:
    """The card as a document that `read_profile` reads back the same."""
    return {
        "shape": card.shape,
        "forms": list(card.forms),
        "grades": list(card.grades),
        "positions": list(card.positions),
        "splice": card.splice,
        "section": [[write_length(out), write_length(up)] for out, up in card.section],
        "limits": [{name: _length_or_none(getattr(row, f"{name}_mm")) for name in WIDTH_LIMITS} for row in card.limits],
        "limits_source": card.limits_source,
        "limits_sure": card.limits_sure,
    }


def _length_or_none(value: Decimal | None) -> str | None:
    return None if value is None else write_length(float(value))


def write_material(material: Material) -> Document:
    """The material as a document that `read_material` reads back the same."""
    return {
        "code": material.code,
        "name": material.name,
        "kind": material.kind,
        **({"own_kind": material.own_kind} if material.own_kind else {}),
        "supply": material.supply,
        "unit_used": material.unit_used,
        "unit_bought": material.unit_bought,
        "waste": None if material.waste is None else format(material.waste.normalize(), "f"),
        "supplier": material.supplier,
        "cushion_workdays": material.cushion_workdays,
        "sign_off_workdays": material.sign_off_workdays,
        "packs": [_write_pack(pack) for pack in material.packs],
        "facts": {name: write_fact(material.facts[name], PROPERTIES[name].unit) for name in sorted(material.facts)},
        "lead_terms": [_write_lead_term(term) for term in material.lead_terms],
        **({"offers": [write_offer(offer) for offer in material.offers]} if material.offers else {}),
        **({"profile": write_profile(material.profile)} if material.kind == "trim" and material.profile else {}),
        **(
            {"planned_leads": [write_planned_lead(lead) for lead in material.planned_leads]}
            if material.planned_leads
            else {}
        ),
    }


def _write_pack(pack: Pack) -> Document:
    return {
        "code": pack.code,
        "label": pack.label,
        "quantity": format(pack.quantity.normalize(), "f"),
        "length": None if pack.length_mm is None else write_length(pack.length_mm),
        "width": None if pack.width_mm is None else write_length(pack.width_mm),
        "prices": [_write_price(price) for price in pack.prices],
    }


def _write_price(price: Price) -> Document:
    return {
        "amount": format(price.amount, "f"),
        "starts_on": price.starts_on.isoformat(),
        "source": price.source,
        "held_until": _day(price.held_until),
    }


def _write_lead_term(term: LeadTerm) -> Document:
    return {
        "production": write_production(term),
        "transit_workdays": term.transit_workdays,
        "source": term.source,
        "stated_on": term.stated_on.isoformat(),
        "stated_by": term.stated_by,
    }


def read_order_terms(owner: Reader) -> OrderTerms | None:
    """`order_terms` of a supplier; None where nothing is said."""
    reader = owner.optional_object("order_terms")
    if reader is None:
        return None
    document = read_all(
        minimum_order=lambda: reader.optional_money("minimum_order"),
        freight=lambda: reader.optional_money("freight"),
        freight_free_from=lambda: reader.optional_money("freight_free_from"),
        claim_days=lambda: reader.optional_whole("claim_days", 0, MAX_CLAIM_DAYS),
        claim_counts=lambda: reader.choice("claim_counts", ("workdays", "calendar_days"), "calendar_days"),
        rush_production_workdays=lambda: reader.optional_whole("rush_production_workdays", 0, 730),
        rush_transit_workdays=lambda: reader.optional_whole("rush_transit_workdays", 0, 250),
        rush_cushion_workdays=lambda: reader.optional_whole("rush_cushion_workdays", 0, MAX_RUSH_CUSHION_WORKDAYS),
        rush_fee=lambda: reader.optional_money("rush_fee"),
        rush_share=lambda: reader.optional_decimal("rush_share", "0", "10"),
        source=lambda: reader.text("source"),
        stated_on=lambda: reader.day("stated_on"),
        stated_by=lambda: reader.text("stated_by", ""),
    )
    reader.finish()
    return built(reader, lambda: OrderTerms(**document))


def write_order_terms(terms: OrderTerms) -> Document:
    """The terms as `read_order_terms` reads them back."""

    def written(amount: Decimal | None) -> str | None:
        return None if amount is None else format(amount, "f")

    return {
        "minimum_order": written(terms.minimum_order),
        "freight": written(terms.freight),
        "freight_free_from": written(terms.freight_free_from),
        "claim_days": terms.claim_days,
        "claim_counts": terms.claim_counts,
        "rush_production_workdays": terms.rush_production_workdays,
        "rush_transit_workdays": terms.rush_transit_workdays,
        "rush_cushion_workdays": terms.rush_cushion_workdays,
        "rush_fee": written(terms.rush_fee),
        "rush_share": written(terms.rush_share),
        "source": terms.source,
        "stated_on": _day(terms.stated_on),
        "stated_by": terms.stated_by,
    }


def read_supplier(reader: Reader) -> Supplier:
    """One supplier with its closed days and cut-off hour."""
    return Supplier(
        reader.text("code", longest=60),
        reader.text("name", longest=200),
        reader.items("closed", read_closure),
        reader.optional_time("order_cut_off"),
        reader.email("email"),
        read_order_terms(reader),
        reader.text("contact", "", longest=200),
        reader.text("phone", "", longest=60),
        reader.text("account_number", "", longest=60),
    )


def write_supplier(supplier: Supplier) -> Document:
    return {
        "code": supplier.code,
        "name": supplier.name,
        "closed": [write_closure(closure) for closure in supplier.closures],
        "order_cut_off": supplier.order_cut_off.isoformat("minutes") if supplier.order_cut_off else None,
        "email": supplier.email,
        "contact": supplier.contact,
        "phone": supplier.phone,
        "account_number": supplier.account_number,
        **({"order_terms": write_order_terms(supplier.terms)} if supplier.terms else {}),
    }


def read_kit(reader: Reader, name: str) -> dict[str, tuple[str, ...]]:
    """A kit: role -> one code, or a list of codes for the roles that may have several."""
    inner = reader.optional_object(name)
    if inner is None:
        return {}
    words = {}
    for role in inner.names():
        if role not in ROLES:
            raise inner.error(role, f"is not a role; the roles are {', '.join(ROLES)}")
        value = inner.raw(role)
        words[role] = (value,) if isinstance(value, str) and value.strip() else inner.texts(role)
        if not words[role]:
            raise inner.error(role, "must name at least one material")
        if len(words[role]) > 1 and role not in ROLES_OF_SEVERAL:
            message = f"must name one material, and {len(words[role])} are named; several serve only as "
            raise inner.error(role, message + ", ".join(sorted(ROLES_OF_SEVERAL)))
    return words


def write_kit(kit: Any) -> Document:
    return {role: list(kit[role]) for role in ROLES if role in kit}


def read_firm(reader: Reader) -> tuple[Firm, Standards]:
    """The firm and its standards; standards it does not state come from the starter set, with their sources."""
    zone = reader.text("time_zone", longest=60)
    if zone not in available_timezones():
        raise reader.error("time_zone", f'"{zone}" is not a time zone of the IANA database, such as Europe/Lisbon')
    currency = reader.text("currency", longest=3)
    if not (len(currency) == 3 and currency.isascii() and currency.isupper()):
        raise reader.error("currency", f'"{currency}" is not an ISO 4217 code of three capital letters')
    values: dict[str, Any] = {
        "name": reader.text("name", longest=200),
        "time_zone": zone,
        "currency": currency,
        "display_units": reader.choice("display_units", ("imperial", "metric"), "imperial"),
        "cushion_workdays": reader.whole("cushion_workdays", 0, 250),
        "sign_off_workdays": reader.whole("sign_off_workdays", 0, 250),
        "closures": reader.items("closed", read_closure),
        "address": reader.text("address", ""),
        "contact": reader.text("contact", ""),
        "kit": read_kit(reader, "kit"),
    }
    firm = built(reader, lambda: Firm(**values))
    return firm, read_standards(reader)


def read_standards(reader: Reader) -> Standards:
    """Standards stated here over the starter set; spacing steps replace the starter table as a whole."""
    starter = starter_standards()

    def unit_of(name: str) -> str | None:
        known = STANDARD_SPECS.get(name)
        return known.unit if known else None

    facts = {**starter.facts, **_facts(reader, "standards", unit_of)}
    steps = reader.items("spacing_steps", _step) or starter.spacing_steps
    return built(reader, lambda: Standards(facts, steps))


def _step(reader: Reader) -> SpacingStep:
    return SpacingStep(
        reader.length("from_radius"),
        reader.length("spacing"),
        reader.text("source"),
        reader.choice("sure", SURENESS),
    )


def write_firm(firm: Firm, standards: Standards) -> Document:
    """The firm and every standard in force, as a document that reads back the same."""
    return {
        "name": firm.name,
        "address": firm.address,
        "contact": firm.contact,
        "time_zone": firm.time_zone,
        "currency": firm.currency,
        "display_units": firm.display_units,
        "cushion_workdays": firm.cushion_workdays,
        "sign_off_workdays": firm.sign_off_workdays,
        "closed": [write_closure(closure) for closure in firm.closures],
        "kit": write_kit(firm.kit),
        "standards": {
            name: write_fact(standards.facts[name], STANDARD_SPECS[name].unit) for name in sorted(standards.facts)
        },
        "spacing_steps": [
            {
                "from_radius": write_length(step.from_radius_mm),
                "spacing": write_length(step.spacing_mm),
                "source": step.source,
                "sure": step.sure,
            }
            for step in standards.spacing_steps
        ],
    }


def _day(day: date | None) -> str | None:
    return day.isoformat() if day else None


__all__ = [
    "Document",
    "DocumentError",
    "built",
    "read_closure",
    "read_fact",
    "read_firm",
    "read_kit",
    "read_material",
    "read_profile",
    "read_standards",
    "read_supplier",
    "write_closure",
    "write_fact",
    "write_firm",
    "write_kit",
    "write_length",
    "write_material",
    "write_profile",
    "write_supplier",
]
