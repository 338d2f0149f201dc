"""The shape of a wall, in the shapes of results: top and ends, arches, caps, mitres, backing, track lengths."""

from typing import Any

from jobs.core.measure.survey import LINES
from jobs.core.measure.wall_spec import ENDS, TOPS
from quoting.platform.api.parts import LENGTH, NUMBER, TEXT, WHOLE, many, one_of, or_none, thing

Schema = dict[str, Any]
FACE = one_of("left", "right")

CAP = thing(
    "A cap on one piece of the wall; its radii are 0 on a straight. The blank is length and width of flat stock.",
    piece=WHOLE,
    inner_radius=LENGTH,
    outer_radius=LENGTH,
    inner=LENGTH,
    outer=LENGTH,
    blank=or_none({"type": "array", "items": LENGTH, "minItems": 2, "maxItems": 2}),
)
MITRE = thing(
    "The cut at an end of a piece of trim at a kink: half the kink, off square.",
    after_piece=WHOLE,
    cut_deg=NUMBER,
    corner=one_of("inside", "outside", "flat"),
)
CASING = thing(
    "Casing round an opening on one face. Legs are from the floor; radii are 0 round a level head.",
    opening=TEXT,
    face=FACE,
    legs=TEXT,
    head=TEXT,
    **dict.fromkeys(("reveal", "width", "inner_radius", "outer_radius"), LENGTH),
    **dict.fromkeys(("head_inner", "head_outer", "leg_inner", "leg_outer"), LENGTH),
    mitre_deg=NUMBER,
)
ARCH = thing(
    "An arched opening. The soffit is the strip that lines the arch.",
    opening=TEXT,
    **dict.fromkeys(("span", "rise", "spring", "radius"), LENGTH),
    sweep_deg=NUMBER,
    soffit=LENGTH,
    soffit_depth=LENGTH,
)
BACKING = thing(
    "Backing behind a run of trim; without a foot it follows the ceiling, so far below it.",
    trim=TEXT,
    face=FACE,
    foot=or_none(LENGTH),
    head=or_none(LENGTH),
    below_ceiling=or_none(LENGTH),
    length=LENGTH,
)
SHAPE: dict[str, Schema] = {
    "top": one_of(*TOPS),
    "ends": or_none(thing("", start=one_of(*ENDS), end=one_of(*ENDS), studs=WHOLE)),
    "top_edges": thing("Along slopes; steps apart.", (), **dict.fromkeys(LINES, LENGTH)),
    "top_steps": LENGTH,
    "arches": many(ARCH),
    "casings": many(CASING),
    "track_pieces": many(thing("", run=TEXT, number=WHOLE, length=LENGTH)),
    "backing": many(BACKING),
}
"""What the shape adds to a wall."""
