"""What the entries of a wall are called, and what may be chosen in them."""

from collections.abc import Iterable

from catalog.core.materials.specs import ROLES
from catalog.pages.words import FORM_WORDS, POSITION_WORDS
from jobs.core.measure.survey import MEASURED_ON
from jobs.core.measure.wall_spec import LEVELS, POSITIONS
from jobs.walls.pages import site_labels

Options = tuple[tuple[str, str], ...]

# How a piece is given -> its name, and the figures it takes.
WAYS: dict[str, tuple[str, tuple[str, ...]]] = {
    "chord_rise": ("Arc by chord and rise", ("chord", "rise")),
    "radius_angle": ("Arc by radius and angle", ("radius", "angle")),
    "radius_arc": ("Arc by radius and length along it", ("radius", "arc")),
    "radius_chord": ("Arc by radius and chord, up to half a circle", ("radius", "chord")),
    "radius_chord_major": ("Arc by radius and chord, over half a circle", ("radius", "chord")),
    "arc_chord": ("Arc by length along it and chord", ("arc", "chord")),
    "matched": ("Arc matching an old curve: its chord and rise, and the new length", ("chord", "rise", "arc")),
    "points": ("Arc through three points", ("x1", "y1", "x2", "y2", "x3", "y3")),
    "corner": ("Quarter-round corner by its radius", ("radius",)),
    "straight": ("Straight", ("length",)),
    "template": ("Ellipse or irregular, to a template only", ("length", "chord", "turned", "template")),
}
# Ways that are no arc with figures of its own, and those that turn by themselves.
NO_ARC = frozenset({"straight", "template"})
NO_TURN = frozenset({"straight", "points", "template"})

LINES: Options = (
    ("convex_framing", "convex framing face"),
    ("convex_finished", "convex finished face"),
    ("concave_framing", "concave framing face"),
    ("concave_finished", "concave finished face"),
    ("centre", "centreline of the studs"),
    ("left_finished", "left finished face"),
    ("left_framing", "left framing face"),
    ("right_framing", "right framing face"),
    ("right_finished", "right finished face"),
)
assert {name for name, _ in LINES} == set(MEASURED_ON)

LEVEL_WORDS = {
    0: "0, left as hung",
    1: "1, taped only",
    2: "2, taped and one coat",
    3: "3, two coats",
    4: "4, three coats",
    5: "5, three coats and a skim",
}

END_OPTIONS: Options = (
    ("free", "free"),
    ("meets", "meets another wall, taped"),
    ("column", "meets a column, masonry or a frame, not taped"),
)
OWN_LINE = ("", "as for the wall")
OPTIONS: dict[str, Options] = {
    "way": tuple((name, label) for name, (label, _) in WAYS.items()),
    "turn": (("left", "left"), ("right", "right")),
    "measured_on": LINES,
    "own_line": (OWN_LINE, *LINES),
    "height_way": (("level", "Level ceiling"), ("stations", "Height changes along the wall")),
    "frame": (("flat", "flat frame"), ("radial", "cut to the radius")),
    "head": (("level", "level"), ("arch", "arched, in a straight piece")),
    "casing_faces": (("both", "both faces"), ("left", "left face"), ("right", "right face")),
    "top": (
        ("ceiling", "meets a ceiling of board, taped"),
        ("deck", "meets a deck or another ceiling, not taped"),
        ("free", "free: a half wall"),
    ),
    "start_end": END_OPTIONS,
    "end_end": END_OPTIONS,
    "direction": (("lengthwise", "lengthwise"), ("widthwise", "widthwise")),
    "moisture": (("dry", "dry"), ("damp", "damp")),
    "level": tuple((str(level), LEVEL_WORDS[level]) for level in LEVELS),
    "face": (("left", "left"), ("right", "right")),
    "position": tuple((name, POSITION_WORDS.get(name, name)) for name in POSITIONS),
    "form": tuple(FORM_WORDS.items()),
    "bend": (("", "as its place has it"), ("easy", "flat against the wall"), ("hard", "on edge")),
    "grade": (("", "not said"), ("paint", "paint"), ("stain", "stain")),
    "splices_allowed": (("", "not said"), ("yes", "allowed"), ("no", "not allowed")),
    "role": tuple((role, label) for role, (_, label) in ROLES.items()),
    **site_labels.OPTIONS,
}

# Entry of a row or of the wall -> its label. The kind of entry is a list of OPTIONS, "yes" for a tick, or text.
LABELS = {
    "name": "Name",
    "measured_on": "Measured on",
    "way": "Given as",
    "turn": "Turns to the",
    "length": "Length",
    "radius": "Radius",
    "angle": "Angle",
    "arc": "Length along the arc",
    "chord": "Chord",
    "rise": "Rise",
    "kink": "Kink before it",
    "x1": "First point, along",
    "y1": "First point, across",
    "x2": "Middle point, along",
    "y2": "Middle point, across",
    "x3": "Last point, along",
    "y3": "Last point, across",
    "height_way": "Ceiling",
    "height": "Height",
    "along": "Distance from the start",
    "centre_at": "Middle, from the start",
    "width": "Width",
    "sill": "Sill above the floor",
    "frame": "Frame",
    "head": "Head",
    "arch_rise": "Rise of the arch",
    "casing_legs": "Casing, legs",
    "casing_head": "Casing, head",
    "casing_reveal": "Reveal of the casing",
    "casing_faces": "Casing on",
    "turned": "Turns in all",
    "board": "Board",
    "direction": "Bent",
    "moisture": "Hung",
    "level": "Finish level",
    "painted": "Painted",
    "track": "Track",
    "stud": "Stud",
    "stud_depth": "Stud depth",
    "stud_spacing": "Studs at most",
    "insulated": "Insulated",
    "top": "Its top",
    "start_end": "Start of the wall",
    "end_end": "End of the wall",
    "end_studs": "Studs at a free end",
    "face": "Face",
    "position": "Where it runs",
    "material": "Profile",
    "form": "Had",
    "bend": "Bent",
    "grade": "Grade",
    "application": "Where and how it is used",
    "foot": "Underside above the floor",
    "returns": "Returns, in all",
    "splices_allowed": "Splices",
    "template": "Its template",
    "needs_backing": "Backing behind it",
    "need_by": "On site by",
    "role": "Used as",
    "instead": "Material",
    **site_labels.LABELS,
}

HINTS = {
    "angle": "degrees, such as 78.6",
    "turned": "degrees from its start to its end, left positive",
    "arch_rise": "crown over the spring line; the height is to the crown",
    "end_studs": "set together, 1 to 6",
    "kink": "degrees, left positive; empty for a smooth joint",
    "stud_depth": "empty: as the stud states",
    "stud_spacing": "empty: by the firm's table",
    "foot": "needed for a chair rail",
    "along": "along the centreline",
    "need_by": "empty: from the activities",
    "template": "its name; on a run of trim, empty: the one entered for it",
    **site_labels.HINTS,
}

FIGURES = tuple(dict.fromkeys(name for _, figures in WAYS.values() for name in figures))
ROWS: dict[str, tuple[str, ...]] = {
    "pieces": ("way", "turn", *FIGURES, "kink", "measured_on"),
    "stations": ("along", "height"),
    "openings": (
        "name", "centre_at", "width", "height", "sill", "frame", "measured_on", "head", "arch_rise", "casing_legs",
        "casing_head", "casing_reveal", "casing_faces",
    ),
    "left-layers": ("board", "direction", "moisture"),
    "right-layers": ("board", "direction", "moisture"),
    "trims": (
        "name", "face", "position", "material", "form", "bend", "grade", "foot", "returns", "splices_allowed",
        "template", "need_by", "application", "needs_backing",
    ),
    "kit": ("role", "instead"),
    **site_labels.ROWS,
}  # fmt: skip
ROW_NAMES = {
    "pieces": "Piece",
    "stations": "Height",
    "openings": "Opening",
    "left-layers": "Layer",
    "right-layers": "Layer",
    "trims": "Trim",
    "kit": "Own material",
    **site_labels.ROW_NAMES,
}
MAX_ROWS = {
    "pieces": 200,
    "stations": 200,
    "openings": 200,
    "left-layers": 8,
    "right-layers": 8,
    "trims": 200,
    "kit": 100,
    **site_labels.MAX_ROWS,
}

SINGLES = (
    "name",
    "measured_on",
    "height_way",
    "height",
    "left-level",
    "left-painted",
    "right-level",
    "right-painted",
    "track",
    "stud",
    "stud_depth",
    "stud_spacing",
    "insulated",
    "top",
    "start_end",
    "end_end",
    "end_studs",
    *site_labels.SINGLES,
)
TICKS = frozenset({"insulated", "left-painted", "right-painted", "needs_backing"})
NO_LENGTH = frozenset({"angle", "turned", "template"})
LENGTHS = frozenset(
    {name for _, figures in WAYS.values() for name in figures if name not in NO_LENGTH}
    | {"height", "along", "centre_at", "width", "sill", "stud_depth", "stud_spacing", "foot", "returns"}
    | {"arch_rise", "casing_reveal"}
    | site_labels.LENGTHS
)
OWN_LINES = frozenset({"pieces", "openings"})

VERDICTS = {
    "passes": "Passes",
    "fails": "Too tight",
    "not_permitted": "Not permitted",
    "gap": "Limit missing",
    "overridden": "Decided",
    "template": "To a template",
}


def label_of(entry: str) -> str:
    return LABELS[entry.rpartition("-")[2]]


def options_with(options: Iterable[tuple[str, str]], value: str) -> Options:
    """A value that is not offered stays to be seen: what was typed is never changed in silence."""
    options = tuple(options)
    if value in {name for name, _ in options}:
        return options
    return ((value, value or "choose one"), *options)
