"""What the entries of a wall's survey are called: readings, leans, offsets, and how each dimension is known."""

from catalog.core.ground.declared import entries_of
from jobs.core.measure.dimension_status import HOW_KNOWN
from jobs.core.measure.site_measurements import READING_FIGURES as FIGURES_OF_WAYS
from jobs.core.measure.site_measurements import ReadingTaken, ReadingWay

Options = tuple[tuple[str, str], ...]

READING_LABELS: dict[ReadingWay, str] = {
    "chord_rise": "Chord and rise",
    "on_blocks": "Straightedge on two blocks, convex face",
    "end_gaps": "Gaps at the ends of a straightedge, convex face",
}
READING_FIGURES = tuple(name for names in FIGURES_OF_WAYS.values() for name in names)
READING_MORE = tuple(entry.name for entry in entries_of(ReadingTaken))
# Entry of the form -> its name in the wall's document.
LEAN_NAMES = {"lean_along": "along", "outwards": "outwards", "lean_height": "height"}
OFFSET_NAMES = {"baseline_along": "along", "offset": "offset"}

ROWS: dict[str, tuple[str, ...]] = {
    "readings": ("of_piece", "reading_way", *READING_FIGURES, *READING_MORE),
    "leans": ("of_piece", *LEAN_NAMES),
    "offsets": tuple(OFFSET_NAMES),
}
ROW_NAMES = {"readings": "Reading", "leans": "Lean", "offsets": "Offset"}
MAX_ROWS = {"readings": 200, "leans": 200, "offsets": 200}
NEW_ROWS = {"readings": {"reading_way": "chord_rise", "of_piece": "1"}, "leans": {"of_piece": "1"}}
# Where the fitted pieces start is kept with the offsets and not typed.
START = ("start_along", "start_offset", "offsets_heading")
ROOM = {
    "room_first": "first",
    "room_second": "second",
    "room_apart": "apart",
    "room_side": "side",
    "room_first_to_start": "first_to_start",
    "room_second_to_start": "second_to_start",
    "room_joint": "joint",
    "room_first_to_point": "first_to_point",
    "room_second_to_point": "second_to_point",
}
# Entry of the form -> its name in the wall's document; nothing is taped while only these two are chosen.
ROOM_CHOICES = frozenset({"room_side", "room_joint"})
SINGLES = ("tape_accuracy", "offsets_tolerance", *START, *ROOM)
LENGTHS = frozenset(
    {*READING_FIGURES, *READING_MORE, *LEAN_NAMES, *OFFSET_NAMES, *SINGLES}
    - {"offsets_heading", "room_first", "room_second", *ROOM_CHOICES}
)
OPTIONS: dict[str, Options] = {
    "reading_way": tuple(READING_LABELS.items()),
    "room_side": (("left", "left of the line from the first to the second"), ("right", "right of it")),
}
LABELS = {
    "of_piece": "Of",
    "reading_way": "Read as",
    "apart": "Blocks apart",
    "block": "Height of the blocks",
    "gap": "Gap midway",
    "straightedge": "Length of the straightedge",
    "first_gap": "Gap at its first end",
    "last_gap": "Gap at its last end",
    "accuracy": "May be out by",
    "span_accuracy": "Its span may be out by",
    "at_height": "Height above the floor",
    "lean_along": "Along the arc, from its start",
    "outwards": "Off plumb, outwards",
    "lean_height": "Read at a height of",
    "baseline_along": "Along",
    "offset": "Offset",
    "tape_accuracy": "The tape may be out by",
    "offsets_tolerance": "The wall may be off them by",
    "start_along": "Start of the pieces, along",
    "start_offset": "Start of the pieces, offset",
    "offsets_heading": "Heading at the start",
    "room_first": "First fixed point",
    "room_second": "Second fixed point",
    "room_apart": "The two are apart",
    "room_side": "The start stands",
    "room_first_to_start": "First point to the start",
    "room_second_to_start": "Second point to the start",
    "room_joint": "Second point of the wall",
    "room_first_to_point": "First point to it",
    "room_second_to_point": "Second point to it",
}
HINTS = {
    "room_first": "such as column C4, centre",
    "offsets_tolerance": "no finer than the tape, such as 1/8 in",
    "tape_accuracy": "either way, such as 1/16 in; empty: the firm's standard",
    "accuracy": "the rise or gap; empty: as the wall's tape",
    "span_accuracy": "the chord, blocks or straightedge; empty: known exactly",
    "at_height": "only where it is of that height alone",
    "lean_along": "empty: at its start, and the same all along",
    "outwards": "away from the centre; negative towards it",
}

# Of an entry whose figure is a dimension: how it is known.
MARK = "__how"
NOT_SAID = ("", "not said")
HOW_WORDS = {"fitted": "worked out from offsets"}
BY_ME: Options = (*((how, f"{how} by me") for how in HOW_KNOWN if how not in HOW_WORDS), NOT_SAID)
