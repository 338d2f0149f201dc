"""What is sent of walls beside the walls themselves, and the ways out of their bends."""

from dataclasses import dataclass
from typing import Annotated

from catalog.core.ground.declared import As, Numbered, Of, Text, View
from jobs.core.takeoff.ways_out import WayOut
from quoting.platform.api.declared import answer_shapes, list_of, request_shapes


@dataclass(frozen=True)
class WallCopy:
    """Where a wall is copied to, and what the copy is called."""

    job: Annotated[str, Text(60), "Key of the job; when left out, the wall's own.", As(example="J-0001")] = ""
    name: Annotated[str, Text(200), "Name of the copy; when left out, one that is free there."] = ""


@dataclass(frozen=True)
class WayOutTaken:
    """One of the ways out of a wall's bends."""

    way: Annotated[str, Text(200), "Its key.", As(example="left/GB-14/lengthwise/damp/2")]


class TightBend(View):
    """The boards of a face, the track or a run of trim, too tight on one arc; the least radius is null where it may not
    be bent so at all."""

    part: Annotated[str, "left, right, track, or trim-1 and so on."]
    piece: Annotated[int, Numbered(), Of("worst.piece_index")]
    radius_mm: Annotated[float, Of("worst.radius_mm")]
    least_radius_mm: Annotated[float | None, Of("worst.least_radius_mm")]
    checks: Annotated[tuple[str, ...], Of(lambda tight: [bend.key for bend in tight.bends])]
    ways: tuple[WayOut, ...]


WaysOut = list_of("WaysOut", "tight", TightBend, "What of a wall is too tight.")
SHAPES = request_shapes(WallCopy, WayOutTaken) | answer_shapes(WaysOut)
