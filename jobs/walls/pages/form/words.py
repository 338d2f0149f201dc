"""What may be chosen in a wall's form, in words."""

from catalog.core.materials.specs import ROLES
from catalog.pages.words import FORM_WORDS, POSITION_WORDS
from jobs.core.measure.site_measurements import ReadingWay
from jobs.core.measure.wall_spec import LEVELS, POSITIONS

Options = tuple[tuple[str, str], ...]

# How a piece is measured -> its name, and the figures it takes.
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
READING_WAYS: dict[ReadingWay, str] = {
    "chord_rise": "Chord and rise",
    "on_blocks": "Straightedge on two blocks, convex face",
    "end_gaps": "Gaps at the ends of a straightedge, convex face",
}
LINES = {
    "convex_framing": "convex framing face",
    "convex_finished": "convex finished face",
    "concave_framing": "concave framing face",
    "concave_finished": "concave finished face",
    "centre": "centreline of the studs",
    "left_finished": "left finished face",
    "left_framing": "left framing face",
    "right_framing": "right framing face",
    "right_finished": "right finished face",
}
LEVEL_WORDS = {
    0: "0, left as hung",
    1: "1, taped only",
    2: "2, taped and one coat",
    3: "3, two coats",
    4: "4, three coats",
    5: "5, three coats and a skim",
}
ENDS = {
    "free": "free",
    "meets": "meets another wall, taped",
    "column": "meets a column, masonry or a frame, not taped",
}
TOPS = {
    "ceiling": "meets a ceiling of board, taped",
    "deck": "meets a deck or another ceiling, not taped",
    "free": "free: a half wall",
}
FRAMES = {"flat": "flat frame", "radial": "cut to the radius"}
DIRECTIONS = {"lengthwise": "along the sheet", "widthwise": "across the sheet"}
FACES = {"both": "both faces", "left": "left face", "right": "right face"}
SIDES = {"left": "left of the line from the first to the second", "right": "right of it"}
LEVEL_OPTIONS: Options = tuple((str(level), LEVEL_WORDS[level]) for level in LEVELS)
POSITION_OPTIONS: Options = tuple((name, POSITION_WORDS.get(name, name)) for name in POSITIONS)
FORM_OPTIONS: Options = tuple(FORM_WORDS.items())
ROLE_OPTIONS: Options = tuple((role, label) for role, (_, label) in ROLES.items())
SAID: Options = (("", "not said"), ("yes", "allowed"), ("no", "not allowed"))

VERDICTS = {
    "passes": "Passes",
    "fails": "Too tight",
    "not_permitted": "Not permitted",
    "gap": "Limit missing",
    "overridden": "Decided",
    "template": "To a template",
}
