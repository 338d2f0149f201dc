"""What the core knows of a material, a supplier's packs and the firm's own standards.

A figure about a material (a least radius, a coverage) or about the firm's way of working (a screw
spacing) is a `Fact`: a number with the name of its source and how sure it is. A fact that is not there
is `None`, and whoever needed it reports a named gap; nothing in here supplies a silent default.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, time
from decimal import Decimal
from functools import cache
from typing import Annotated, Literal
from zoneinfo import available_timezones

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import (
    As,
    Choice,
    Custom,
    Declared,
    Document,
    Email,
    Items,
    Kind,
    Length,
    Money,
    Number,
    Refs,
    Schema,
    Text,
    TimeOfDay,
    Whole,
    Writing,
    build,
    check,
    read,
    read_fields,
    write,
    write_fields,
)
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.units import UNITS, System, format_both
from catalog.core.ground.workdays import Closure, WorkCalendar, calendar_with
from catalog.core.leads.lead_times import LeadTerm
from catalog.core.leads.order_terms import OrderTerms
from catalog.core.leads.planned_leads import PlannedLead
from catalog.core.materials.facts import SURENESS, Fact, Facts, SpecError, Sureness
from catalog.core.materials.profiles import ProfileCard, WidthLimit

Supply = Literal["stocked", "special_order", "custom_made"]
SUPPLIES: tuple[Supply, ...] = ("stocked", "special_order", "custom_made")

KINDS: Mapping[str, str] = {
    "track": "Curvable track",
    "stud": "Steel stud",
    "board": "Gypsum board",
    "fastener": "Fasteners",
    "bead": "Corner and edge bead",
    "compound": "Joint compound",
    "tape": "Joint tape",
    "primer": "Primer",
    "paint": "Paint",
    "trim": "Trim profile",
    "insulation": "Insulation",
    "backing": "Backing",
    "own": "Of the firm's own kind",
}
KIND_WORDS = (
    f"What it is: {'; '.join(f'{kind} = {words.lower()}' for kind, words in KINDS.items() if kind != 'own')}; "
    "own = of a kind the firm names itself, in own_kind."
)
MAX_OWN_WORKDAYS = 250
MAX_OFFERS = 50
OWN_KIND = "own"
"""What the firm names itself, in `Material.own_kind`: a door set, adhesive, hire. No rule of a wall asks for it."""


@dataclass(frozen=True)
class Property:
    """A figure that a material of some kinds may state: its label, unit, kinds and believable bounds."""

    label: str
    unit: str
    kinds: frozenset[str]
    low: Decimal
    high: Decimal


def _property(label: str, unit: str, kinds: str, low: str, high: str) -> Property:
    return Property(label, unit, frozenset(kinds.split()), Decimal(low), Decimal(high))


# Every length is kept in millimetres; a "yes or no" is 1 or 0. Bounds only catch slips of the keyboard.
PROPERTIES: Mapping[str, Property] = {
    "depth_mm": _property("Depth of the member", "mm", "track stud", "10", "400"),
    "flange_mm": _property("Flange", "mm", "track stud", "10", "150"),
    "steel_mil": _property("Steel thickness (mil)", "mil", "track stud", "10", "150"),
    "limiting_height_mm": _property("Limiting height", "mm", "stud", "300", "30000"),
    "link_pitch_mm": _property("Pitch of the links", "mm", "track", "5", "600"),
    "least_radius_mm": _property("Least radius", "mm", "track trim bead", "1", "100000"),
    "thickness_mm": _property("Thickness", "mm", "board trim backing insulation", "1", "300"),
    "width_mm": _property("Width or height of the profile", "mm", "trim backing bead", "1", "1000"),
    "lengthwise_dry_least_radius_mm": _property("Least radius, bent lengthwise, dry", "mm", "board", "1", "100000"),
    "widthwise_dry_least_radius_mm": _property("Least radius, bent widthwise, dry", "mm", "board", "1", "100000"),
    "widthwise_dry_permitted": _property("May be bent widthwise dry", "yes/no", "board", "0", "1"),
    "lengthwise_damp_least_radius_mm": _property("Least radius, bent lengthwise, damp", "mm", "board", "1", "100000"),
    "widthwise_damp_least_radius_mm": _property("Least radius, bent widthwise, damp", "mm", "board", "1", "100000"),
    "spacing_at_least_radius_mm": _property("Greatest stud spacing at the least radius", "mm", "board", "20", "1000"),
    "damp_water_l_per_m2": _property("Water for damp bending", "l/m2", "board", "0", "20"),
    "screw_length_mm": _property("Screw length", "mm", "fastener", "3", "200"),
    "least_steel_mil": _property("Thinnest steel it is for (mil)", "mil", "fastener", "1", "500"),
    "greatest_steel_mil": _property("Thickest steel it is for (mil)", "mil", "fastener", "1", "500"),
    "gal_per_1000sqft": _property("Use per 1,000 sq ft", "gal", "compound", "0.1", "100"),
    "sqft_per_gal": _property("Coverage of one coat", "sq ft/gal", "primer paint", "10", "2000"),
    "flex_inside_mm": _property("Flex tolerance, tighter", "mm", "trim", "0", "1000"),
    "flex_outside_mm": _property("Flex tolerance, easier", "mm", "trim", "0", "1000"),
    "add_per_piece_mm": _property("Length added to each piece", "mm", "trim", "0", "2000"),
    "round_piece_to_mm": _property("Pieces rounded up to the next", "mm", "trim", "1", "4000"),
    "greatest_piece_mm": _property("Greatest piece", "mm", "trim", "100", "20000"),
    "least_piece_mm": _property("Least piece", "mm", "trim", "1", "10000"),
    "splice_overlap_mm": _property("Length lost at a splice", "mm", "track trim bead backing", "0", "1000"),
    "hard_least_radius_mm": _property("Least radius, bent on edge", "mm", "trim", "1", "100000"),
    "pre_curved_least_radius_mm": _property("Least radius, curved by the maker", "mm", "trim", "1", "100000"),
    "template_charge": _property("Charge for each template", "money", "trim", "0", "100000"),
}


INVENTED_PRICE = "Starter price, invented: enter your own"
"""The source of a price that came with the starter list: it lets a first wall be tried, and is nobody's price."""


@dataclass(frozen=True)
class Price:
    """What one pack costs from a day on, until a later price starts."""

    amount: Annotated[Decimal, Money(), "Price of one pack, in the firm's currency.", As(label="Price")]
    starts_on: Annotated[
        date,
        "The first day it holds.",
        As(label="In force from", hint="Until a later price starts; past quotes keep theirs."),
    ]
    source: Annotated[
        str, "Where it was read: a price list, a written offer.", As(hint="Such as: price list of March.")
    ] = ""
    held_until: Annotated[
        date | None, "Until when the supplier holds it, where promised.", As(hint="The last day, if they said so.")
    ] = None

    def __post_init__(self) -> None:
        if not self.amount.is_finite() or self.amount < 0:
            raise SpecError(f"a price must be zero or more, not {self.amount}")


@dataclass(frozen=True)
class Pack:
    """The thing that is bought: a stick, a sheet, a box, a pail."""

    code: Annotated[
        str,
        Text(60),
        "Code of the pack, once in its material.",
        As(label="Code of the pack", hint="As the list says it."),
    ]
    label: Annotated[
        str, Text(200), "What the order calls it.", As(label="What it is", hint="Such as: 10 ft stick, box of 1,000.")
    ]
    quantity: Annotated[
        Decimal,
        Number("0.000001"),
        "How many units used are in one pack, in the material's `unit_used`. More than zero, at most 1,000,000.",
        As(label="Holds"),
    ]
    prices: Annotated[
        tuple[Price, ...], "Prices, each with the day it starts. With none, the price is a gap and never zero."
    ] = ()
    length_mm: Annotated[float | None, Length(), "Length of a stick or sheet.", As(hint="Of a stick or sheet.")] = None
    width_mm: Annotated[float | None, Length(), "Width of a sheet.", As(hint="Of a sheet.")] = None

    def to_document(self) -> Document:
        document = write_fields(self)
        return document | {"prices": document.pop("prices")}

    def __post_init__(self) -> None:
        if not self.quantity.is_finite() or self.quantity <= 0:
            raise SpecError(f"pack {self.code}: the quantity must be more than zero, not {self.quantity}")

    def price_on(self, day: date) -> Price | None:
        """The price in force on `day`, or None: a missing price is a gap, never zero.

        >>> Pack("S10", "10 ft stick", Decimal(10)).price_on(date(2026, 5, 1)) is None
        True
        """
        started = [price for price in self.prices if price.starts_on <= day]
        return max(started, key=lambda price: price.starts_on) if started else None


@dataclass(frozen=True)
class Offer:
    """What a supplier beside the preferred one asks for a material. prices: by code of the pack."""

    supplier: Annotated[str, Text(60), "Code of the supplier."]
    lead_terms: Annotated[tuple[LeadTerm, ...], "What it has said of its lead time."] = ()
    prices: Annotated[Mapping[str, tuple[Price, ...]], As(aside=True)] = field(default_factory=dict)

    @classmethod
    def from_document(cls, reader: Reader) -> Offer:
        """In documents each price names its pack."""
        prices: dict[str, tuple[Price, ...]] = {}
        for price in reader.items("prices", lambda row: read(PackPrice, row)):
            if price.starts_on in [known.starts_on for known in prices.get(price.pack, ())]:
                day = day_words(price.starts_on)
                raise reader.error("prices", f"two prices of {price.pack} start on {day}; give each its own day")
            own = Price(price.amount, price.starts_on, price.source, price.held_until)
            prices[price.pack] = (*prices.get(price.pack, ()), own)
        return build(cls, reader, read_fields(cls, reader) | {"prices": prices})

    def to_document(self) -> Document:
        prices = [{"pack": pack, **write(price)} for pack, prices in self.prices.items() for price in prices]
        return {**write_fields(self), "prices": prices}

    @classmethod
    def document_schema(cls, schema: Schema, refs: Refs) -> Schema:
        prices = Items(Declared(PackPrice)).optional_schema(refs)
        schema["properties"]["prices"] = {"description": "What it asks for the packs of the material.", **prices}
        return schema


@dataclass(frozen=True, kw_only=True)
class PackPrice(Price):
    """The price of one pack from a day on."""

    pack: Annotated[str, Text(60), "Code of the pack."]


@dataclass(frozen=True)
class Material:
    """One entry of the firm's catalog, as the core sees it.

    unit_used: unit of takeoff quantities (a key of UNITS). unit_bought: the word for one pack ("stick").
    waste: share added to the net quantity, 0 to below 2, or None when nobody has stated it (a gap).
    facts: property name -> Fact. lead_terms: what the supplier has said of its lead time, oldest first.
    planned_leads: days accepted for planning in their place, oldest first.
    cushion_workdays, sign_off_workdays: where they differ from the firm's usual ones, else None. profile: its card,
    for a trim, None when nobody has filled one in. own_kind: the firm's word for a kind of its own, else empty.
    supplier: the preferred one; packs and lead_terms hold its prices and terms. offers: of others.
    """

    code: Annotated[
        str,
        Text(60),
        "The code everything refers to it by, once in the document.",
        As(hint="Short and lasting: it stands in jobs and papers and cannot change later."),
    ]
    name: Annotated[str, Text(200), "Its name on screens and papers."]
    kind: Annotated[str, Choice(tuple(KINDS)), KIND_WORDS]
    own_kind: Annotated[
        str,
        Text(60),
        "The firm's word for a kind of its own: Adhesive, Door set. Needed where kind is own, and only there.",
        As(label="Its name", hint="Of a kind of your own alone: adhesive, door set.", left_out=True),
    ] = field(default="", kw_only=True)
    supply: Annotated[Supply, "How it comes.", As(label="How it comes", absent="stocked")]
    unit_used: Annotated[str, Choice(tuple(UNITS)), "Unit of takeoff quantities.", As(label="Counted in")]
    unit_bought: Annotated[str, Text(40), "The word for one pack: stick, sheet, box.", As(label="Bought as")]
    waste: Annotated[
        Decimal | None,
        Number("0", "1.99"),
        'Share added to the net quantity, 0 to 1.99: "0.1" is 10 %; null while not stated: a gap, not zero.',
        As(label="Waste, %", hint="Added to what the wall needs."),
    ]
    supplier: Annotated[str | None, "Code of the supplier."] = field(default=None, kw_only=True)
    cushion_workdays: Annotated[
        int | None,
        Whole(0, MAX_OWN_WORKDAYS),
        "Working days between dock and need-by, 0 to 250; null takes the firm's.",
        As(label="Cushion, working days", hint="Empty: the firm's usual."),
    ] = field(default=None, kw_only=True)
    sign_off_workdays: Annotated[
        int | None,
        Whole(0, MAX_OWN_WORKDAYS),
        "Working days the decision takes, 0 to 250; null takes the firm's.",
        As(label="Sign-off, working days", hint="Empty: the firm's usual."),
    ] = field(default=None, kw_only=True)
    packs: Annotated[tuple[Pack, ...], "What can be bought."] = ()
    facts: Annotated[
        Mapping[str, Fact],
        Facts(PROPERTIES),
        "Figures of this material by name, each with its source. One that is not there is a gap where it is needed.",
    ] = field(default_factory=dict)
    lead_terms: Annotated[tuple[LeadTerm, ...], "What the supplier has said of its lead time, oldest first."] = field(
        default=(), kw_only=True
    )
    offers: Annotated[
        tuple[Offer, ...],
        Items(Declared(Offer), MAX_OFFERS),
        "What other suppliers than the preferred one ask.",
        As(left_out=True),
    ] = field(default=(), kw_only=True)
    profile: Annotated[
        ProfileCard | None,
        "The card of a trim profile; null or left out where nobody has filled one in. Only for trim.",
        As(left_out=True),
    ] = field(default=None, kw_only=True)
    planned_leads: Annotated[
        tuple[PlannedLead, ...],
        "Days somebody accepted for planning in the place of the quoted ones, oldest first. A catalog that takes the "
        "document in accepts none of them.",
        As(left_out=True),
    ] = field(default=(), kw_only=True)

    @classmethod
    def from_document(cls, reader: Reader) -> Material:
        values = read_fields(cls, reader)
        if values["kind"] == OWN_KIND and not values["own_kind"].strip():
            raise reader.error("own_kind", "is missing; name the firm's own kind, such as Adhesive")
        if values["kind"] != OWN_KIND and values["own_kind"]:
            raise reader.error("own_kind", f"is for a material of the kind {OWN_KIND} alone; leave it out")
        return build(cls, reader, values)

    @classmethod
    def document_schema(cls, schema: Schema, refs: Refs) -> Schema:
        """Each kind has figures of its own."""
        return schema | {"allOf": [_figures_of(kind) for kind in KINDS]}

    def __post_init__(self) -> None:
        check(self, SpecError)
        if (self.kind == OWN_KIND) != bool(self.own_kind.strip()):
            raise SpecError(f"material {self.code}: name its kind where it is of the firm's own, and only there")
        codes = [pack.code for pack in self.packs]
        if len(codes) != len(set(codes)):
            raise SpecError(f"material {self.code}: two packs have the same code")
        self._check_offers(set(codes))
        for name, fact in self.facts.items():
            check_property(self.code, self.kind, name, fact.value)
        if self.profile is not None and self.kind != "trim":
            raise SpecError(f"material {self.code}: a {self.kind} has no profile card; it belongs to trim")

    def _check_offers(self, packs: set[str]) -> None:
        sellers = [offer.supplier for offer in self.offers]
        if len(sellers) != len({*sellers, *((self.supplier,) if self.offers else ())} - {self.supplier}):
            raise SpecError(f"material {self.code}: each other supplier is named once, the preferred one not again")
        for entry in self.offers:
            if unknown := set(entry.prices) - packs:
                raise SpecError(
                    f"material {self.code}: {entry.supplier} prices {min(unknown)!r}, which is not a pack of it"
                )

    @property
    def kind_words(self) -> str:
        """What kind it is, in words.

        >>> Material("D", "Door", "own", "stocked", "each", "set", None, own_kind="Door sets").kind_words
        'Door sets'
        """
        return self.own_kind or KINDS[self.kind]

    def fact(self, name: str) -> Fact | None:
        """The stated figure, or None when the catalog does not hold it.

        >>> board = Material("GB", "board", "board", "stocked", "sqft", "sheet", Decimal("0.1"))
        >>> board.fact("thickness_mm") is None
        True
        """
        return self.facts.get(name)

    def trim_limit(self, name: str) -> Fact | None:
        """A limit of a profile: its own figure, else that of its maker's table for its width; None when neither says.

        name: one of `profiles.LIMITS_BY_WIDTH`. Source: own rule; what is said of the profile itself goes before what
        is said of its width.

        >>> card = ProfileCard(limits=(WidthLimit(Decimal(140), Decimal(450)),), limits_source="The maker's sheet",
        ...     limits_sure="maker")
        >>> wide = {"width_mm": Fact(Decimal("133.35"), "Measured", "firm")}
        >>> base = Material("B", "Base", "trim", "custom_made", "ft", "piece", None, facts=wide, profile=card)
        >>> base.trim_limit("least_radius_mm").number
        450.0
        """
        own, width = self.facts.get(name), self.facts.get("width_mm")
        if own is not None or self.profile is None or width is None:
            return own
        row = self.profile.row_for(width.value)
        value = row.figure(name) if row else None
        if row is None or value is None or self.profile.limits_sure is None:
            return None
        source = f"{self.profile.limits_source}, for widths to {format_both(float(row.to_width_mm))}"
        return Fact(value, source, self.profile.limits_sure)


def _figures_of(kind: str) -> Schema:
    names = [name for name, known in PROPERTIES.items() if kind in known.kinds]
    return {
        "if": {"properties": {"kind": {"const": kind}}, "required": ["kind"]},
        "then": {"properties": {"facts": {"propertyNames": {"enum": names}}}},
    }


def check_property(code: str, kind: str, name: str, value: Decimal) -> None:
    """Refuse a figure that a material of this kind cannot have.

    code: the material's code, for the message. kind: one of KINDS. name: a key of PROPERTIES.
    value: in the property's unit. Raises SpecError naming the property and what would be right.

    >>> check_property("GB", "board", "thickness_mm", Decimal("6.35"))
    """
    known = PROPERTIES.get(name)
    if known is None:
        raise SpecError(f"material {code}: {name!r} is not a known property")
    if kind not in known.kinds:
        raise SpecError(f"material {code}: a {kind} has no {name}; it belongs to {', '.join(sorted(known.kinds))}")
    if not (value.is_finite() and known.low <= value <= known.high):
        raise SpecError(f"material {code}: {name} {value} must be from {known.low} to {known.high} {known.unit}")


# Roles: what a wall needs that nobody chooses wall by wall. The firm's kit names a material for each.
ROLES: Mapping[str, tuple[str, str]] = {
    "framing_screw": ("fastener", "Screws, stud to track"),
    "track_fastener": ("fastener", "Fasteners, track to floor and ceiling"),
    "board_screw": ("fastener", "Screws, board to stud"),
    "tape": ("tape", "Joint tape"),
    "compound": ("compound", "Joint compound"),
    "bead": ("bead", "Bead at jambs, heads and free ends"),
    "bead_fastener": ("fastener", "Fasteners for bead"),
    "flexible_bead": ("bead", "Flexible bead at arches and curved free tops"),
    "arch_track": ("track", "Track round arched heads"),
    "primer": ("primer", "Primer"),
    "paint": ("paint", "Paint"),
    "insulation": ("insulation", "Cavity insulation"),
    "backing": ("backing", "Backing for trim"),
}
"""role -> (kind it must be, label)."""

ROLES_OF_SEVERAL = frozenset({"board_screw"})
"""Roles that may name several materials: of the screws the shortest that reaches and is for the steel is used."""


Kit = Mapping[str, tuple[str, ...]]
KIT_WORDS = (
    "Materials by role, for what nobody chooses wall by wall. For `board_screw` several may be named: the shortest "
    "that reaches and is for the steel is used."
)


class KitOf(Kind):
    """A kit: role -> one code, or a list of codes for the roles that may have several."""

    def read(self, reader: Reader, name: str) -> dict[str, tuple[str, ...]]:
        inner = reader.object(name)
        codes: dict[str, tuple[str, ...]] = {}
        for role in inner.names():
            if role not in ROLES:
                raise inner.error(role, f"is not a role; the roles are {', '.join(ROLES)}")
            value = inner.raw(role)
            codes[role] = (value,) if isinstance(value, str) and value.strip() else inner.texts(role)
            if not codes[role]:
                raise inner.error(role, "must name at least one material")
            if len(codes[role]) > 1 and role not in ROLES_OF_SEVERAL:
                message = f"must name one material, and {len(codes[role])} are named; several serve only as "
                raise inner.error(role, message + ", ".join(sorted(ROLES_OF_SEVERAL)))
        return codes

    def write(self, value: Kit, how: Writing) -> Document:
        return {role: list(value[role]) for role in ROLES if role in value}

    def schema(self, refs: Refs) -> Schema:
        roles = {}
        for role, (kind, label) in ROLES.items():
            several = role in ROLES_OF_SEVERAL
            words = "one code or a list of codes" if several else "one code, alone or as a list of one"
            one = {"type": "string", "pattern": r"\S"}
            most = {} if several else {"maxItems": 1}
            many = {"type": "array", "minItems": 1, **most, "items": {**one, "maxLength": 2000}}
            roles[role] = {"description": f"{label} (kind: {kind}): {words}.", "anyOf": [one, many]}
        return {"type": "object", "properties": roles, "additionalProperties": False}


known_zones = cache(available_timezones)
"""Looked up once: it goes through hundreds of files."""


def _zone(reader: Reader, name: str) -> str:
    zone = reader.text(name, longest=60)
    if zone not in known_zones():
        raise reader.error(name, f'"{zone}" is not a time zone of the IANA database, such as Europe/Lisbon')
    return zone


def _currency(reader: Reader, name: str) -> str:
    currency = reader.text(name, longest=3)
    if not (len(currency) == 3 and currency.isascii() and currency.isupper()):
        raise reader.error(name, f'"{currency}" is not an ISO 4217 code of three capital letters')
    return currency


@dataclass(frozen=True)
class Supplier:
    """Who sells."""

    code: Annotated[
        str,
        Text(60),
        "The code materials refer to it by, once in the document.",
        As(hint="Short and lasting: it cannot change later."),
    ]
    name: Annotated[str, Text(200), "Its name."]
    closures: Annotated[
        tuple[Closure, ...], "Days it does not work, beside Saturdays and Sundays.", As(name="closed")
    ] = ()
    order_cut_off: Annotated[
        time | None,
        TimeOfDay(),
        "Hour after which an order counts as the next working day's, such as 14:30; null for none.",
        As(label="Orders by", hint="Later counts as the next day's. Write it as 14:30."),
    ] = None
    email: Annotated[str, Email(), "Where orders go.", As(label="E-mail")] = ""
    contact: Annotated[str, Text(200), "Whom to ask for there.", As(hint="Whom to ask for.")] = ""
    phone: Annotated[str, Text(60), "Where to ring it."] = ""
    account_number: Annotated[str, Text(60), "Under which it knows the firm.", As(label="Our account number")] = ""
    terms: Annotated[
        OrderTerms | None, "On which terms it takes orders, as it said.", As(name="order_terms", left_out=True)
    ] = None

    @property
    def calendar(self) -> WorkCalendar:
        """The supplier's working days.

        >>> Supplier("MILL", "The mill").calendar.is_workday(date(2026, 12, 24))
        True
        """
        # Not named after the supplier: its errors reach people who are not to know who sells.
        return calendar_with("of the supplier", self.closures)


@dataclass(frozen=True)
class Firm:
    """The firm itself: its calendar, usual days, units, and the kit it uses where a wall does not say."""

    name: Annotated[str, Text(200), "Its name on papers.", As(hint="At the head of every paper.")]
    address: Annotated[str, "Its address on papers.", As(rows=3)] = field(default="", kw_only=True)
    contact: Annotated[str, "Whom to ask, and where.", As(label="Telephone and e-mail", rows=2)] = field(
        default="", kw_only=True
    )
    time_zone: Annotated[
        str,
        Custom(_zone, str, {"type": "string", "pattern": r"\S", "maxLength": 60}),
        "A time zone of the IANA database, such as America/New_York: what day it is depends on it.",
    ]
    currency: Annotated[
        str,
        Custom(_currency, str, {"type": "string", "pattern": "^[A-Z]{3}$"}),
        "ISO 4217 code, three capital letters.",
        As(hint="Its ISO 4217 code: three capital letters, such as EUR."),
    ]
    display_units: Annotated[
        System,
        "How lengths are shown.",
        As(label="Units shown", hint="Either may be typed anywhere.", absent="imperial"),
    ]
    cushion_workdays: Annotated[
        int,
        Whole(0, MAX_OWN_WORKDAYS),
        "Working days between the dock date and need-by, 0 to 250, where a material or job says no other.",
        As(label="Cushion, working days", hint="Items are on site this long before they are needed."),
    ]
    sign_off_workdays: Annotated[
        int,
        Whole(0, MAX_OWN_WORKDAYS),
        "Working days from decide-by to order-by, 0 to 250, where a material or job says no other.",
        As(label="Sign-off, working days", hint="For a client to decide before an order goes out."),
    ]
    closures: Annotated[
        tuple[Closure, ...], "Days the firm does not work, beside Saturdays and Sundays.", As(name="closed")
    ] = ()
    kit: Annotated[Kit, KitOf(), KIT_WORDS] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for role in self.kit:
            if role not in ROLES:
                raise SpecError(f"the kit names {role!r}, which is not one of {', '.join(ROLES)}")

    @property
    def calendar(self) -> WorkCalendar:
        """The firm's working days.

        >>> Firm("F", "Etc/UTC", "EUR", "metric", 3, 5).calendar.is_workday(date(2026, 11, 28))
        False
        """
        return calendar_with(self.name, self.closures)


__all__ = [
    "KINDS",
    "OWN_KIND",
    "PROPERTIES",
    "ROLES",
    "ROLES_OF_SEVERAL",
    "SUPPLIES",
    "SURENESS",
    "Fact",
    "Firm",
    "Material",
    "Offer",
    "Pack",
    "Price",
    "ProfileCard",
    "Property",
    "SpecError",
    "Supplier",
    "Supply",
    "Sureness",
    "WidthLimit",
    "check_property",
]
