"""What is measured of a wall, as forms: the wall itself, its pieces and heights, readings, the room, offsets."""

from typing import Any, ClassVar

from catalog.core.ground.declared import Document, entries_of
from catalog.core.ground.units import System
from jobs.core.measure.offsets_fit import Offset
from jobs.core.measure.radius_readings import EndGaps, Lean, OnBlocks
from jobs.core.measure.room_tie import RoomTie
from jobs.core.measure.site_measurements import READING_FIGURES, OffsetsGiven, ReadingTaken, SiteMeasurements
from jobs.core.measure.survey import (
    ArcPiece,
    ChordRise,
    HeightStation,
    RadiusAngle,
    RadiusArcLength,
    TemplatePiece,
)
from jobs.core.measure.wall_spec import WallSpec
from jobs.walls.pages.form.marks import MARK, POINTS
from jobs.walls.pages.form.part_form import PartForm, Typed, as_typed
from jobs.walls.pages.form.words import LINES, NO_ARC, NO_TURN, READING_WAYS, SIDES, TOPS, WAYS
from quoting.platform.pages.declared_fields import form_of, picked
from quoting.platform.pages.entry_form import pick, text

QUARTER_TURN = 90.0
# No finer than a tape reads.
TOLERANCES: dict[System, str] = {"imperial": "1/8 in", "metric": "3 mm"}
FIGURES = ("length", "radius", "angle", "arc", "chord", "rise", "turned", "template", *POINTS)
POINT_FIELDS = {
    name: text(f"{which} point, {way}")
    for name, which, way in zip(
        POINTS, ("First", "First", "Middle", "Middle", "Last", "Last"), ("along", "across") * 3, strict=True
    )
}


class SurveyForm(form_of(WallSpec, "name", base=PartForm)):
    starts_as = {"measured_on": "convex_framing", "height" + MARK: "measured"}
    needed = ("name", "measured_on", "height")
    marked = ("height",)
    wide = ("name", "measured_on")

    measured_on = picked(WallSpec, "measured_on", LINES)
    height = text("Height")


class CeilingForm(PartForm):
    starts_as = {"top": "ceiling", "height_way": "level"}
    wide = ("top", "height_way")

    height_way = pick("Ceiling", (("level", "Level ceiling"), ("stations", "Height changes along the wall")))
    top = picked(WallSpec, "top", TOPS)


class StationForm(form_of(HeightStation, "along", "height", base=PartForm)):
    needed = marked = ("along", "height")


class PieceForm(
    form_of(ArcPiece, "turn", "kink", "measured_on", base=PartForm),
    form_of(TemplatePiece, "length", "chord", "turned", "template", base=PartForm),
    form_of(RadiusArcLength, "radius", "arc", base=PartForm),
    form_of(RadiusAngle, "angle", base=PartForm),
    form_of(ChordRise, "rise", base=PartForm),
    type(PartForm)("PointsForm", (PartForm,), POINT_FIELDS),
):
    """was: its place among the stored pieces, whose figures stand where none are sent."""

    starts_as = {"way": "chord_rise", "turn": "left"}
    marked = ("length", "radius", "angle", "arc", "chord", "rise", "turned", "kink", "x1")
    wide = ("way", "measured_on")
    stands_at = {"shape": "way", "points": "x1", "points[0]": "x1", "points[1]": "x2", "points[2]": "x3"}
    field_order = (*FIGURES, "turn", "way", "kink", "measured_on")
    GIVEN: ClassVar = ("way", "kink", "measured_on")

    way = pick("Measured as", tuple((way, label) for way, (label, _) in WAYS.items()))
    turn = picked(ArcPiece, "turn", {"left": "left", "right": "right"})
    measured_on = picked(ArcPiece, "measured_on", {"": "as for the wall"} | LINES)
    when = {
        **{name: ("way", tuple(way for way, (_, figures) in WAYS.items() if name in figures)) for name in FIGURES},
        "turn": ("way", tuple(way for way in WAYS if way not in NO_TURN)),
        "measured_on": ("way", tuple(way for way in WAYS if way != "straight")),
    }

    def figures(self) -> list[Any]:
        """What is typed of it each time."""
        names = (name for name in self.fields if not name.endswith(MARK) and name not in self.GIVEN)
        return [self[name] for name in names if self.is_shown(name)]

    def given(self) -> list[Any]:
        """How it is measured, and what is seldom said."""
        return [self[name] for name in self.fields if name.removesuffix(MARK) in self.GIVEN and self.is_shown(name)]

    def known(self) -> list[Any]:
        """How each of its figures is known."""
        return [self[name + MARK] for name in self.marked if name not in self.GIVEN and self.is_shown(name)]

    def way_words(self) -> str:
        label = WAYS.get(self.typed("way"), ("", ()))[0]
        return f"{label[:1].lower()}{label[1:]}"

    def words(self) -> str:
        shape = {"straight": "straight", "template": "to a template", "corner": "corner"}.get(self.typed("way"), "arc")
        entered = self.entered()
        said = (f"{str(self.fields[name].label).lower()} {entered[name]}" for name in FIGURES if name in entered)
        return ", ".join([shape, *said])

    def document(self) -> Document:
        entered, way = self.entered(), self.typed("way")
        rest = {name: entered[name] for name in ("turn", "kink", "measured_on") if name in entered}
        if way not in WAYS:
            return {"shape": way or None}
        figures = {name: self.typed(name) for name in WAYS[way][1]}
        if way == "points":
            values = list(figures.values())
            return {"shape": "arc", **rest, "points": [values[at : at + 2] for at in (0, 2, 4)]}
        if way in NO_ARC:
            seldom = {name: figures.pop(name) for name in ("turned", "template") if name in figures}
            return {"shape": way, **figures, **{name: value for name, value in seldom.items() if value}, **rest}
        arc: Document = {"shape": "arc", **rest, **figures}
        if way == "corner":
            arc["angle"] = "90"
        return arc | {"major": way.endswith("_major")} if way.startswith("radius_chord") else arc

    @classmethod
    def texts_of(cls, written: Document, system: System) -> Typed:
        flat = [entry for point in written.get("points", ()) for entry in point]
        points = {name: as_typed(name, value, system) for name, value in zip(POINTS, flat, strict=False)}
        return super().texts_of(written, system) | points | {"way": _way(written)}


def _way(written: Document) -> str:
    if written["shape"] in NO_ARC:
        return str(written["shape"])
    if written.get("angle") == QUARTER_TURN:
        return "corner"
    if "points" in written:
        return "points"
    if written.get("major"):
        return "radius_chord_major"
    given = [way for way in WAYS if way not in (*NO_ARC, "corner")]
    held = [way for way in given if all(figure in written for figure in WAYS[way][1])]
    # Whoever gives chord, rise and arc gives chord and rise as well.
    return max(held, key=lambda way: len(WAYS[way][1]))


class TapeForm(form_of(SiteMeasurements, "tape_accuracy", base=PartForm)):
    pass


class OfPieceForm(PartForm):
    starts_as = {"of_piece": "1"}

    of_piece = pick("Of", ())

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        numbers = [(str(number), f"piece {number}") for number in range(1, self.pieces + 1)]
        of_piece: Any = self.fields["of_piece"]
        of_piece.choices = numbers
        of_piece.widget.attrs |= {"data-numbers": "pieces", "data-words": "piece 1"}

    def piece(self) -> int:
        number = self.typed("of_piece")
        return int(number) - 1 if number.isascii() and number.isdigit() and 0 < len(number) < 4 and int(number) else 0

    def document(self) -> Document:
        return {name: value for name, value in self.entered().items() if name not in ("of_piece", "reading_way")}


class ReadingForm(
    form_of(ReadingTaken, *(entry.name for entry in entries_of(ReadingTaken)), base=OfPieceForm),
    form_of(EndGaps, *READING_FIGURES["end_gaps"], base=OfPieceForm),
    form_of(OnBlocks, *READING_FIGURES["on_blocks"], base=OfPieceForm),
    form_of(ChordRise, *READING_FIGURES["chord_rise"], base=OfPieceForm),
):
    starts_as = {"of_piece": "1", "reading_way": "chord_rise"}
    field_order = ("of_piece", "reading_way")
    wide = ("reading_way",)
    when = {
        name: ("reading_way", tuple(way for way, names in READING_FIGURES.items() if name in names))
        for names in READING_FIGURES.values()
        for name in names
    }

    reading_way = pick("Read as", READING_WAYS.items())

    def document(self) -> Document:
        figures = READING_FIGURES.get(self.typed("reading_way"), ())  # type: ignore[call-overload]
        return {name: self.typed(name) for name in figures} | super().document()

    @classmethod
    def texts_of(cls, written: Document, system: System) -> Typed:
        way = next((way for way, names in READING_FIGURES.items() if names[0] in written), "")
        return super().texts_of(written, system) | {"reading_way": way}


class LeanForm(form_of(Lean, "along", "outwards", "height", base=OfPieceForm)):
    needed = ("outwards", "height")
    field_order = ("of_piece",)


class RoomForm(form_of(RoomTie, *(entry.name for entry in entries_of(RoomTie)), base=PartForm)):
    starts_as = {"side": "left"}
    plain = ("first", "second")
    stands_at = {"": "first"}

    joint = picked(RoomTie, "joint", {"": "its end"})
    side = picked(RoomTie, "side", SIDES)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        joint: Any = self.fields["joint"]
        joint.choices += [(str(number), f"the end of piece {number}") for number in range(1, self.pieces)]
        joint.widget.attrs |= {"data-numbers": "pieces", "data-words": "the end of piece 1", "data-less": True}

    def document(self) -> Document:
        """Nothing is taped while only these two are chosen."""
        entered = self.entered()
        return entered if entered.keys() - {"side", "joint"} else {}

    @classmethod
    def texts_of(cls, written: Document, system: System) -> Typed:
        return super().texts_of(written, system) | ({} if written else {"side": "left"})


class OffsetsForm(form_of(OffsetsGiven, "tolerance", base=PartForm)):
    """start_along, start_offset, heading: where the fitted pieces start, kept with the offsets and not typed."""

    starts_as = {"tolerance": TOLERANCES["imperial"]}
    START: ClassVar = ("start_along", "start_offset", "heading")

    start_along, start_offset, heading = (text(name) for name in START)

    def figures(self) -> list[Any]:
        return [self["tolerance"]]

    def kept(self) -> list[Any]:
        return [self[name] for name in self.START]

    def is_fitted(self) -> bool:
        return all(self.typed(name) for name in self.START)

    def document(self) -> Document:
        start = {"along": self.typed("start_along"), "offset": self.typed("start_offset")}
        fitted = {"start": start, "heading": self.typed("heading")} if self.is_fitted() else {}
        return {"tolerance": self.typed("tolerance"), **fitted}

    @classmethod
    def texts_of(cls, written: Document, system: System) -> Typed:
        start = written.get("start") or {}
        places = {f"start_{name}": as_typed(name, start.get(name), system) for name in ("along", "offset")}
        preset = {} if written else {"tolerance": TOLERANCES[system]}
        return super().texts_of(written, system) | places | preset

    def entry_at(self, path: str) -> str:
        return "tolerance"


class OffsetForm(form_of(Offset, "along", "offset", base=PartForm)):
    needed = ("along", "offset")

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        for field in self.fields.values():
            field.widget.attrs["placeholder"] = field.label
