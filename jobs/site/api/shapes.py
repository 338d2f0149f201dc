"""The site sheet in the shapes of results."""

from typing import Any

from jobs.core.measure.survey import LINES
from quoting.platform.api.parts import DAY, LENGTH, TEXT, WHOLE, many, one_of, or_none, ref, thing

Schema = dict[str, Any]
SECTION = thing(
    "A part of the sheet as finished text.",
    heading=TEXT,
    says=many(TEXT),
    tables=many(thing("", heading=TEXT, notes=many(TEXT), columns=many(TEXT), rows=many(many(TEXT)))),
)
ORDINATES = thing(
    "An arc from its chord, on one framing face; side: of the chord, as seen walking.",
    piece=WHOLE,
    line=one_of(*LINES),
    part=WHOLE,
    parts=WHOLE,
    side=one_of("left", "right"),
    chord=LENGTH,
    rise=LENGTH,
    radius=LENGTH,
    rows=many(thing("", along=LENGTH, ordinate=LENGTH)),
)
MATERIAL = thing(
    "What is to be on site, and what has come: count is good, spoilt damaged or wrong; a count under zero went back.",
    material=TEXT,
    name=TEXT,
    for_the_job=TEXT,
    need_by=or_none(DAY),
    on_site=many(thing("", on=DAY, count=TEXT, spoilt=TEXT, unit=TEXT)),
)
SHAPES: Schema = {
    "SiteSection": SECTION,
    "SiteSheet": thing(
        "What the lead builds from.",
        job=TEXT,
        title=TEXT,
        as_of=DAY,
        interval=LENGTH,
        cautions=many(TEXT),
        materials=many(MATERIAL),
        walls=many(
            thing(
                "",
                key=TEXT,
                name=TEXT,
                missing=many(TEXT),
                warnings=many(TEXT),
                figures=many(thing("", label=TEXT, value=TEXT, note=TEXT)),
                ordinates=many(ORDINATES),
                room=or_none(ref("RoomShown")),
                sections=many(ref("SiteSection")),
            )
        ),
        cut_lists=or_none(ref("SiteSection")),
    ),
}
