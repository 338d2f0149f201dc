"""What was taken of a wall on site, in the shapes of results."""

from typing import Any

from jobs.core.measure.survey import LINES
from quoting.platform.api.parts import DAY, FLAG, LENGTH, NUMBER, TEXT, many, one_of, or_none, ref, thing

Schema = dict[str, Any]
BAND: Schema = {"low": LENGTH, "best": or_none(LENGTH), "high": or_none(LENGTH), "text": TEXT}
COORDINATE = LENGTH

ARC_BAND = or_none(
    thing(
        "How well the radius is known, on the line measured; high is null when a straight cannot be told apart.",
        (),
        **BAND,
        line=one_of(*LINES),
        entered=LENGTH,
        tape=LENGTH,
        one_radius=FLAG,
        readings=many(thing("", (), what=TEXT, span=LENGTH, **BAND)),
        at_heights=many(thing("", (), height=LENGTH, **BAND, off_arc=LENGTH)),
    )
)
CHECK_BAND = or_none(
    thing(
        "The band on the line that is bent, and where the limit stands in it.",
        (),
        **BAND,
        standing=one_of("clear", "inside", "tighter", "no_limit"),
        sentence=TEXT,
    )
)
OFFSETS = or_none(
    thing(
        "How far the pieces stand off the offsets they were fitted to; left of walking positive.",
        (),
        tolerance=LENGTH,
        within=FLAG,
        largest=thing("", along=COORDINATE, off=COORDINATE),
        rms=LENGTH,
        start=thing("", along=COORDINATE, offset=COORDINATE),
        heading_deg=NUMBER,
        points=many(thing("", along=COORDINATE, offset=COORDINATE, off=COORDINATE)),
    )
)
DIMENSIONS = many(
    thing(
        "How one dimension is known; null where nobody says.",
        (),
        dimension=TEXT,
        words=TEXT,
        how=or_none(one_of("measured", "assumed", "confirmed", "fitted")),
        by=or_none(TEXT),
        on=or_none(DAY),
        brought_in=or_none(
            thing(
                "Of what a job file says: who brought it in, and who here confirmed it since.",
                (),
                by=TEXT,
                on=DAY,
                confirmed_by=or_none(TEXT),
                confirmed_on=or_none(DAY),
            )
        ),
    )
)
HOLDS = many(ref("Hold"))
ROOM = or_none(
    thing(
        "Where the wall stands in the room, in its own coordinates; null while nothing ties it there.",
        (),
        line=one_of(*LINES),
        point=TEXT,
        fixed=many(thing("", name=TEXT, x=COORDINATE, y=COORDINATE)),
        by_tape=LENGTH,
        by_wall=LENGTH,
        may_differ=or_none(LENGTH),
        agrees=or_none(FLAG),
        crossing_deg=NUMBER,
        diagonals=many(thing("", from_=TEXT, to=TEXT, distance=LENGTH, taped=or_none(LENGTH))),
    )
)
SHAPES: Schema = {
    "Hold": thing(
        "What keeps trim from being released to order, on account of one dimension; not open once released by name.",
        (),
        line=TEXT,
        run=TEXT,
        material=TEXT,
        dimension=TEXT,
        words=TEXT,
        open=FLAG,
        finding=ref("Finding"),
    )
}
