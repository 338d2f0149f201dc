"""The profile card of a trim: its section, how it may be had, and its maker's limits by width."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Annotated, Any, Literal, get_args

from catalog.core.ground.declared import (
    As,
    Declared,
    Items,
    Kind,
    Length,
    Refs,
    Schema,
    Text,
    Writing,
    check,
    write_length,
)
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.units import format_both
from catalog.core.materials.facts import SURENESS, SpecError, Sureness

TrimForm = Literal["stock", "bendable", "pre_curved", "template"]
FORMS: tuple[TrimForm, ...] = get_args(TrimForm)
"""How a profile may be had, from the least asked of a maker to the most."""
Grade = Literal["paint", "stain"]
GRADES: tuple[Grade, ...] = get_args(Grade)
Position = Literal["base", "shoe", "chair", "crown", "cap", "reveal", "top"]
POSITIONS: tuple[Position, ...] = get_args(Position)
"""Where a profile runs along a wall."""
MAX_CORNERS = 200
MAX_ROWS = 40
MAX_MM = 1000.0
Corner = tuple[float, float]
EXACT = Length(exact=True)


class Corners(Kind):
    """A corner of a section, written [out, up]."""

    def read(self, reader: Reader, name: str) -> Corner:
        value = reader.raw(name)
        if not isinstance(value, list) or len(value) != 2:
            raise reader.error(name, "must be two lengths, [out from the back, up from the foot]")
        out, up = (reader.length_of(name, length) for length in value)
        return out, up

    def write(self, value: Corner, how: Writing) -> Any:
        return [write_length(length_mm) for length_mm in value]

    def schema(self, refs: Refs) -> Schema:
        return {"type": "array", "items": refs.part("length"), "minItems": 2, "maxItems": 2}


@dataclass(frozen=True)
class WidthLimit:
    """One row of a maker's table: what holds for profiles up to a width.

    Raises:
        SpecError: a figure that cannot be, named.

    >>> WidthLimit(Decimal("152.4"), Decimal("457.2")).hard_least_radius_mm is None
    True
    """

    to_width_mm: Annotated[Decimal, EXACT, "Profiles up to this width."]
    least_radius_mm: Annotated[
        Decimal | None, EXACT, "Least radius, bent flat against the wall; null where the maker states none."
    ] = None
    hard_least_radius_mm: Annotated[Decimal | None, EXACT, "Least radius, bent on edge."] = None
    flex_inside_mm: Annotated[Decimal | None, EXACT, "How much tighter a piece made to a radius may be flexed."] = None
    flex_outside_mm: Annotated[Decimal | None, EXACT, "How much easier a piece made to a radius may be flexed."] = None

    def __post_init__(self) -> None:
        bounds = {
            "to_width_mm": ("1", "1000"),
            "least_radius_mm": ("1", "100000"),
            "hard_least_radius_mm": ("1", "100000"),
            "flex_inside_mm": ("0", "1000"),
            "flex_outside_mm": ("0", "1000"),
        }
        for name, (low, high) in bounds.items():
            value = getattr(self, name)
            if value is not None and not (value.is_finite() and Decimal(low) <= value <= Decimal(high)):
                raise SpecError(f"a limit by width: {name} {value} must be from {low} to {high} mm")

    def figure(self, name: str) -> Decimal | None:
        """One of its limits by the name of the property it stands for; None when the row does not state it.

        >>> WidthLimit(Decimal(90), Decimal(300)).figure("least_radius_mm")
        Decimal('300')
        """
        return getattr(self, name) if name in LIMITS_BY_WIDTH else None


LIMITS_BY_WIDTH = frozenset({"least_radius_mm", "hard_least_radius_mm", "flex_inside_mm", "flex_outside_mm"})


@dataclass(frozen=True)
class ProfileCard:
    """The card of a trim profile: its section, how it may be had, and its maker's limits by width.

    Raises:
        SpecError: naming what cannot be.

    >>> card = ProfileCard("Bevel", ("stock",), section=((0.0, 0.0), (12.7, 0.0), (6.0, 90.0), (0.0, 90.0)))
    >>> card.thickness_mm, card.width_mm
    (12.7, 90.0)
    """

    document_name = "profile"

    shape: Annotated[str, Text(200), "The name of its section. Profiles of one shape can replace each other."] = ""
    forms: Annotated[tuple[TrimForm, ...], "How it comes, each named once.", As(label="Available as")] = ()
    grades: Annotated[tuple[Grade, ...], "The finishes it comes for, each named once."] = ()
    positions: Annotated[
        tuple[Position, ...], "Where it is used, each named once. Empty while not stated.", As(label="Used as")
    ] = field(default=(), kw_only=True)
    splice: Annotated[str, "How two pieces are joined.", As(label="Splices", rows=2)] = ""
    section: Annotated[
        tuple[Corner, ...],
        Items(Corners(), MAX_CORNERS),
        "The corners of its section in order around: [out from its back, up from its foot]. At least one lies on the "
        "back, 0 out. Empty while not drawn.",
    ] = ()
    limits: Annotated[
        tuple[WidthLimit, ...],
        Items(Declared(WidthLimit), MAX_ROWS),
        "The maker's table of limits by width, the narrowest first. A figure of the material itself goes before it.",
    ] = ()
    limits_source: Annotated[
        str, "Who states the table; needed where there is one.", As(label="Who states the limits")
    ] = ""
    limits_sure: Annotated[
        Sureness | None, "How sure the table is; needed where there is one.", As(label="How sure they are")
    ] = None

    def __post_init__(self) -> None:
        check(self, SpecError)
        for name in ("forms", "grades", "positions"):
            if len(getattr(self, name)) != len(set(getattr(self, name))):
                raise SpecError(f"{name}: each is named once")
        _check_section(self.section)
        if len(self.limits) > MAX_ROWS:
            raise SpecError(f"limits by width: at most {MAX_ROWS} rows, not {len(self.limits)}")
        widths = [row.to_width_mm for row in self.limits]
        if widths != sorted(set(widths)):
            raise SpecError("limits by width: the rows must go from the narrowest to the widest, each width once")
        if self.limits and (not self.limits_source.strip() or self.limits_sure not in SURENESS):
            raise SpecError("limits by width: say who states the table (limits_source) and how sure it is")

    @property
    def thickness_mm(self) -> float | None:
        """How far the drawn section stands out from the wall, mm; None when none is drawn."""
        return max(x for x, _ in self.section) if self.section else None

    @property
    def width_mm(self) -> float | None:
        """How high the drawn section is, mm; None when none is drawn."""
        return max(y for _, y in self.section) - min(y for _, y in self.section) if self.section else None

    def row_for(self, width_mm: Decimal) -> WidthLimit | None:
        """The row that holds for a profile of this width: the narrowest that reaches it; None past the table.

        width_mm: of the profile, mm, > 0.

        >>> rows = (WidthLimit(Decimal(90), Decimal(300)), WidthLimit(Decimal(140), Decimal(450)))
        >>> card = ProfileCard(limits=rows, limits_source="The maker's sheet", limits_sure="maker")
        >>> card.row_for(Decimal(120)).least_radius_mm, card.row_for(Decimal(150))
        (Decimal('450'), None)
        """
        return next((row for row in self.limits if width_mm <= row.to_width_mm), None)


def _check_section(section: tuple[Corner, ...]) -> None:
    if not section:
        return
    if not 3 <= len(section) <= MAX_CORNERS:
        raise SpecError(f"section: a section has 3 to {MAX_CORNERS} corners, not {len(section)}")
    for number, (x, y) in enumerate(section, 1):
        if not all(math.isfinite(figure) and 0 <= figure <= MAX_MM for figure in (x, y)):
            raise SpecError(
                f"section: corner {number} ({format_both(x) if math.isfinite(x) else x}, "
                f"{format_both(y) if math.isfinite(y) else y}) must be from 0 to {MAX_MM:g} mm out from the back "
                "and up from the foot"
            )
    if abs(area_of(section)) < 1e-6:
        raise SpecError("section: its corners enclose nothing; go around the section, corner by corner")
    if min(x for x, _ in section) > 1e-6:
        raise SpecError("section: at least one corner must lie on the back, 0 out from the wall")


def area_of(section: tuple[Corner, ...]) -> float:
    """The area inside the corners, mm2, positive when they go anticlockwise.

    section: corners in mm, in order around. Returns mm2. Source: the shoelace formula of plane geometry.

    >>> area_of(((0.0, 0.0), (10.0, 0.0), (10.0, 20.0), (0.0, 20.0)))
    200.0
    """
    pairs = zip(section, (*section[1:], section[0]), strict=True)
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs) / 2
