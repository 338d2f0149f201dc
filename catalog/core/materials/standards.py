"""The firm's standards: figures of its way of working, each with source and date, each editable.

`STARTER_STANDARDS` is the starter data a new firm is given, not constants of the program: the core reads
only the `Standards` value handed to it, and a standard that is missing there is a named gap.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.declared import As, Length, build, read_fields
from catalog.core.ground.document_reader import Reader
from catalog.core.materials.facts import Facts
from catalog.core.materials.specs import Fact, SpecError, Sureness


@dataclass(frozen=True)
class StandardSpec:
    """What a standard means: label, unit, believable bounds, and the starter figure with its source."""

    label: str
    unit: str
    low: Decimal
    high: Decimal
    starter: Fact


def _standard(label: str, unit: str, low: str, high: str, value: str, sure: Sureness, source: str) -> StandardSpec:
    return StandardSpec(label, unit, Decimal(low), Decimal(high), Fact(Decimal(value), source, sure))


NAVEDTRA = "US Navy Builder manual NAVEDTRA 14044"
GA_226 = "Gypsum Association GA-226-08"

STANDARD_SPECS: Mapping[str, StandardSpec] = {
    "straight_stud_spacing_mm": _standard(
        "Greatest stud spacing on straight parts",
        "mm",
        "50",
        "1000",
        "406.4",
        "practice",
        "Common practice: 16 in",
    ),
    "least_wall_height_mm": _standard(
        "A wall lower than this is asked about",
        "mm",
        "1",
        "3000",
        "300",
        "firm",
        "The firm's own starting figure: lower is more likely a height typed in the wrong unit",
    ),
    "greatest_wall_height_mm": _standard(
        "A wall higher than this is asked about",
        "mm",
        "1000",
        "30000",
        "6000",
        "firm",
        "The firm's own starting figure; how high studs may stand is for local code and licensed practice",
    ),
    "closest_spacing_share": _standard(
        "Closest stud spacing kept up to this share above a board's least radius",
        "ratio",
        "0",
        "2",
        "0.25",
        "practice",
        "Common practice: a quarter; a board a little easier than its least radius still shows every stud",
    ),
    "limiting_height_from_mm": _standard(
        "A wall higher than this asks for the limiting height of its stud",
        "mm",
        "300",
        "30000",
        "3048",
        "firm",
        "The firm's own starting figure: 10 ft; how high studs may stand is for local code and licensed practice",
    ),
    "stud_cut_short_mm": _standard(
        "Studs cut short of the clear height", "mm", "0", "50", "6.35", "practice", "Common practice: 1/4 in"
    ),
    "tape_accuracy_mm": _standard(
        "Accuracy of a tape reading, either way",
        "mm",
        "0.01",
        "100",
        "3.175",
        "practice",
        "Common practice: read to 1/8 in; a wall read with another tape says so itself",
    ),
    "jamb_studs": _standard("Studs at each jamb", "each", "1", "4", "2", "practice", "Common practice: doubled jambs"),
    "screws_per_stud_end": _standard(
        "Screws at each stud end",
        "each",
        "1",
        "4",
        "2",
        "memory",
        "Remembered as usual on curves: both flanges, top and bottom; unverified",
    ),
    "track_fastener_spacing_mm": _standard(
        "Greatest spacing of track fasteners",
        "mm",
        "50",
        "1200",
        "609.6",
        "published",
        "UFGS 09200A; ASTM C754 family: at most 24 in",
    ),
    "track_fastener_end_mm": _standard(
        "Track fastener from each end, at most",
        "mm",
        "10",
        "300",
        "50.8",
        "memory",
        "Remembered: 2 in; unverified",
    ),
    "base_layer_screw_spacing_mm": _standard(
        "Screw spacing, covered layers",
        "mm",
        "50",
        "610",
        "406.4",
        "published",
        f"{NAVEDTRA}: at most 16 in on walls",
    ),
    "face_layer_screw_spacing_mm": _standard(
        "Screw spacing, outermost layer",
        "mm",
        "50",
        "610",
        "304.8",
        "published",
        f"{NAVEDTRA}: 12 in usual on walls",
    ),
    "screw_penetration_mm": _standard(
        "Screw penetration into steel, at least", "mm", "1", "50", "9.525", "practice", "Common practice: 3/8 in"
    ),
    "joint_stagger_mm": _standard(
        "Least distance between joints of neighbouring courses and layers",
        "mm",
        "1",
        "1220",
        "254",
        "memory",
        "Remembered: 10 in; unverified. That they are offset is published: Using Gypsum Board, section IV",
    ),
    "joint_clear_of_opening_mm": _standard(
        "Least distance of a joint from the edge of an opening",
        "mm",
        "0",
        "610",
        "152.4",
        "practice",
        "Common practice: 6 in",
    ),
    "saw_kerf_mm": _standard(
        "Width of a saw cut across a stick", "mm", "0", "10", "3.175", "practice", "Common practice: 1/8 in"
    ),
    "usable_offcut_mm": _standard(
        "Least length of an off-cut worth keeping", "mm", "0", "3000", "304.8", "firm", "Our own convention: 12 in"
    ),
    "bead_fastener_spacing_mm": _standard(
        "Spacing of bead fasteners", "mm", "20", "610", "127", "published", f"{NAVEDTRA}: every 5 in"
    ),
    "compound_level_5_factor": _standard(
        "Compound for a skim coat, against taped joints only",
        "ratio",
        "1",
        "5",
        "1.5",
        "firm",
        "The firm's own starting figure; learn it from use",
    ),
    "primer_coats": _standard("Coats of primer", "each", "0", "4", "1", "practice", "Common practice: one"),
    "paint_coats": _standard("Coats of paint", "each", "0", "6", "2", "practice", "Common practice: two"),
    "coat_dry_hours": _standard(
        "Drying of one coat of compound",
        "h",
        "1",
        "240",
        "24",
        "firm",
        "The firm's default; Drywall Finishing Council, Joint Compound Drying Time, gives 2 h to 5 days",
    ),
    "layout_hours_per_m": _standard(
        "Setting out, hours per metre of wall",
        "h",
        "0",
        "20",
        "0.35",
        "firm",
        "The firm's own starting figure; learn it from recorded hours",
    ),
    "framing_hours_per_stud": _standard(
        "Framing, hours per stud",
        "h",
        "0",
        "10",
        "0.3",
        "firm",
        "The firm's own starting figure; learn it from recorded hours",
    ),
    "framing_hours_per_opening": _standard(
        "Framing an opening, hours each beside its studs",
        "h",
        "0",
        "40",
        "0",
        "firm",
        "The firm's own starting figure: none, an opening counts by its studs alone; learn it from recorded hours",
    ),
    "board_hours_per_1000sqft": _standard(
        "Hanging board on a flat wall, man-hours per 1,000 sq ft of one layer",
        "h",
        "1",
        "500",
        "33",
        "published",
        "US Navy Builder manual NAVEDTRA 14045: 33 man-hours per 1,000 sq ft of 1/2 in board on walls",
    ),
    "curve_factor": _standard(
        "Times longer on a curve than on a flat wall",
        "ratio",
        "1",
        "10",
        "1.8",
        "firm",
        "The firm's own starting figure, nothing is published; learn it from recorded hours",
    ),
    "coat_hours_per_1000sqft": _standard(
        "One coat of compound on a flat wall, hours per 1,000 sq ft",
        "h",
        "0",
        "100",
        "8",
        "firm",
        "The firm's own starting figure; learn it from recorded hours",
    ),
    "paint_hours_per_1000sqft": _standard(
        "One coat of primer or paint, hours per 1,000 sq ft",
        "h",
        "0",
        "100",
        "6",
        "firm",
        "The firm's own starting figure; learn it from recorded hours",
    ),
    "trim_hours_per_m": _standard(
        "Fixing trim, hours per metre",
        "h",
        "0",
        "20",
        "0.5",
        "firm",
        "The firm's own starting figure; learn it from recorded hours",
    ),
    "trim_hours_per_piece": _standard(
        "Fitting a piece of trim, hours each beside its length",
        "h",
        "0",
        "20",
        "0",
        "firm",
        "The firm's own starting figure: none, trim counts by its length alone; learn it from recorded hours",
    ),
    "hours_per_workday": _standard(
        "Productive hours of one person in a working day",
        "h",
        "1",
        "16",
        "8",
        "practice",
        "Common practice: 8 h",
    ),
    "delay_factor": _standard(
        "Times as many man-days as without delays",
        "ratio",
        "1",
        "5",
        "1",
        "firm",
        "The firm's own starting figure: no delays; US Navy Builder manual NAVEDTRA 14045 multiplies man-days by it",
    ),
    "crew_availability": _standard(
        "Share of its days the crew is on one job",
        "ratio",
        "0.05",
        "1",
        "1",
        "firm",
        "The firm's own starting figure: all of them; NAVEDTRA 14045 divides by it, 0.75 in its example",
    ),
    "crew_efficiency": _standard(
        "Share of its pace the crew keeps up",
        "ratio",
        "0.05",
        "1",
        "1",
        "firm",
        "The firm's own starting figure: all of it; NAVEDTRA 14045 divides by it, 0.9375 in its example",
    ),
    "inspection_workdays": _standard(
        "Working days to wait for the inspection before closing up",
        "each",
        "0",
        "60",
        "1",
        "firm",
        "The firm's own starting figure; the local authority's practice decides",
    ),
    "paint_dry_hours": _standard(
        "Drying of primer and paint before what comes next",
        "h",
        "0",
        "240",
        "4",
        "firm",
        "The firm's own starting figure; what the tin says decides",
    ),
    "trim_cure_hours": _standard(
        "Curing of adhesive and filler of trim before paint",
        "h",
        "0",
        "240",
        "12",
        "firm",
        "The firm's own starting figure; what the maker says decides",
    ),
    "trim_acclimatise_hours": _standard(
        "Trim on site before it is fixed, by the clock",
        "h",
        "0",
        "720",
        "0",
        "firm",
        "The firm's own starting figure: none beside the cushion days; what the maker says decides",
    ),
    "board_acclimatise_hours": _standard(
        "Board on site before it is hung, by the clock",
        "h",
        "0",
        "720",
        "0",
        "firm",
        "The firm's own starting figure: none beside the cushion days; what the maker says decides",
    ),
    "change_days_from": _standard(
        "Working days of more or less work from which a change moves the end",
        "each",
        "0.1",
        "20",
        "0.5",
        "firm",
        "The firm's own starting figure: half a day; less is made up on the way",
    ),
    "people_on_site": _standard(
        "People of the firm who work on site",
        "each",
        "1",
        "50",
        "2",
        "firm",
        "The firm's own starting figure: one crew of two; say how many there are",
    ),
    "shortest_duration_share": _standard(
        "Shortest an activity is expected to last, against planned",
        "ratio",
        "0.1",
        "1",
        "0.8",
        "firm",
        "The firm's own starting figure, nothing is published; learn it from recorded days",
    ),
    "longest_duration_share": _standard(
        "Longest an activity is expected to last, against planned",
        "ratio",
        "1",
        "10",
        "1.6",
        "firm",
        "The firm's own starting figure, nothing is published; learn it from recorded days",
    ),
    "buying_window_workdays": _standard(
        "Working days ahead that goods are bought together",
        "each",
        "0",
        "250",
        "15",
        "firm",
        "The firm's own starting figure: three weeks; more saves freight and ties up money",
    ),
    "confirmed_length_tolerance_mm": _standard(
        "Confirmed length that is as ordered, either way",
        "mm",
        "0",
        "25",
        "1.5875",
        "firm",
        "The firm's own starting figure: 1/16 in; suppliers write sixteenths of an inch or whole millimetres",
    ),
    "confirmed_radius_tolerance_mm": _standard(
        "Confirmed radius that is as ordered, either way",
        "mm",
        "0",
        "25",
        "1.5875",
        "firm",
        "The firm's own starting figure: 1/16 in; suppliers write sixteenths of an inch or whole millimetres",
    ),
    "reclaimed_tax_share": _standard(
        "Share of the tax on bills that the firm reclaims",
        "ratio",
        "0",
        "1",
        "1",
        "firm",
        "The firm's own starting figure: all of it; what is not reclaimed is cost, by local law",
    ),
    "confirmed_price_tolerance": _standard(
        "Share of the price that may be confirmed more or less",
        "ratio",
        "0",
        "0.5",
        "0",
        "firm",
        "The firm's own starting figure: none, each cent is a difference",
    ),
    "confirmed_days_tolerance": _standard(
        "Calendar days after the quoted day that are as ordered, while in time",
        "each",
        "0",
        "60",
        "0",
        "firm",
        "The firm's own starting figure: none, each day later is a difference",
    ),
}


@dataclass(frozen=True)
class SpacingStep:
    """From this radius up, studs at most so far apart."""

    from_radius_mm: Annotated[
        float,
        Length(),
        "Radius of the concave framing face from which the step holds.",
        As(label="From this radius"),
    ]
    spacing_mm: Annotated[
        float, Length(), "Greatest stud spacing along the convex framing face.", As(label="Studs at most apart")
    ]
    source: Annotated[str, "Who says so."]
    sure: Annotated[Sureness, "How far to trust it.", As(label="How sure")]


STARTER_SPACING_STEPS: tuple[SpacingStep, ...] = (
    SpacingStep(0.0, 152.4, f"{GA_226}: at most 6 in at the board's least radius", "published"),
    SpacingStep(1651.0, 203.2, "Common practice: 8 in from about 5 ft 5 in", "practice"),
    SpacingStep(3810.0, 304.8, f"Common practice: from 150 in. {NAVEDTRA}: up to 12 in on curves", "practice"),
    SpacingStep(7620.0, 406.4, f"Common practice: from 300 in. {NAVEDTRA}: 16 in on gentle curves", "practice"),
)


@dataclass(frozen=True)
class Standards:
    """The firm's standards in force: name -> Fact, and the stud spacing steps sorted by radius."""

    facts: Annotated[
        Mapping[str, Fact],
        Facts(STANDARD_SPECS),
        "Figures of the firm's way of working, each with its source. What is not stated comes from the starter set, "
        "with its sources.",
        As(name="standards", absent={}),
    ]
    spacing_steps: Annotated[
        tuple[SpacingStep, ...],
        "Stud spacing by radius, sorted by radius, each radius once. With none, the starter table holds.",
        As(absent=()),
    ]

    @classmethod
    def from_document(cls, reader: Reader) -> Standards:
        """Those stated, over the starter set; spacing steps replace the starter table as a whole."""
        stated, starter = read_fields(cls, reader, whole=False), starter_standards()
        steps = stated["spacing_steps"] or starter.spacing_steps
        return build(cls, reader, {"facts": {**starter.facts, **stated["facts"]}, "spacing_steps": steps})

    def __post_init__(self) -> None:
        for name, fact in self.facts.items():
            check_standard(name, fact.value)
        radii = [step.from_radius_mm for step in self.spacing_steps]
        if radii != sorted(set(radii)):
            raise SpecError("stud spacing steps must be sorted by radius, each radius once")

    def fact(self, name: str) -> Fact | None:
        """The standard's figure, or None when the firm has not stated it.

        >>> Standards({}, ()).fact("paint_coats") is None
        True
        """
        return self.facts.get(name)

    def spacing_step(self, radius_mm: float) -> SpacingStep | None:
        """The step that holds at `radius_mm` (> 0), or None when the table starts above it.

        >>> starter_standards().spacing_step(3368.04).spacing_mm
        203.2
        """
        reached = [step for step in self.spacing_steps if step.from_radius_mm <= radius_mm]
        return reached[-1] if reached else None


def check_standard(name: str, value: Decimal) -> None:
    """Refuse a standard nobody knows or a figure out of its bounds. Raises SpecError.

    >>> check_standard("paint_coats", Decimal(2))
    """
    known = STANDARD_SPECS.get(name)
    if known is None:
        raise SpecError(f"{name!r} is not a known standard")
    if not (value.is_finite() and known.low <= value <= known.high):
        raise SpecError(f"standard {name}: {value} must be from {known.low} to {known.high} {known.unit}")


def starter_standards() -> Standards:
    """The standards a new firm starts from, each with its source.

    >>> starter_standards().fact("paint_coats").value
    Decimal('2')
    """
    return Standards({name: spec.starter for name, spec in STANDARD_SPECS.items()}, STARTER_SPACING_STEPS)
