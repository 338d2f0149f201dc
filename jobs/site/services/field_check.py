"""The dimensions the wall hangs on, as entered, how each is known, with room for what is found on site."""

from collections.abc import Iterable

from catalog.core.ground.units import System, format_degrees
from jobs.core.measure.brought_in import words_of
from jobs.core.measure.dimension_holds import Dimension, every_dimension
from jobs.core.measure.dimension_status import DimensionStatus
from jobs.core.measure.wall_spec import WallSpec
from jobs.site.papers.site_parts import SiteSection, SiteTable
from jobs.site.services.words import Say, lengths_in
from quoting.platform.formatting import day_words, with_day_words

SAYS = (
    "Read each again on the framed wall before anything made to a radius is ordered, and tell the office what differs.",
)
ANGLES = frozenset({"angle", "turned", "kink"})
POINTS = ("first", "middle", "last")
NOBODY = "not measured yet"


def field_check(spec: WallSpec, system: System) -> SiteSection:
    say = lengths_in(system)
    measured = spec.measured_on.replace("_", " ")
    marks = {mark.dimension: mark.mark for mark in spec.taken.marks}
    rows = [
        (
            f"{dimension.words[:1].upper()}{dimension.words[1:]}{more}",
            figure,
            known_words(marks.get(dimension.place)),
            "",
            "",
        )
        for dimension in every_dimension(spec)
        for more, figure in _figures_of(dimension, say)
    ]
    columns = ("Dimension", "As entered", "Known as", "Found on site", "By, on")
    note = f"Lengths of pieces and places of openings are on the {measured} line unless the piece says otherwise."
    table = SiteTable("Dimensions", columns, tuple(rows), words=(0, 2, 3, 4), notes=(note,), by_hand=(3, 4))
    return SiteSection("Field check", SAYS, (table,))


def entries_of(dimension: Dimension) -> Iterable[tuple[str, str, float]]:
    """Each figure of a dimension to be read alone: its place in the wall's document, words that go on, the figure."""
    if dimension.leaf != "points":
        yield dimension.place, "", dimension.figures[0]
        return
    for number, name in enumerate(POINTS):
        for axis, word in enumerate(("along", "across")):
            yield (
                f"{dimension.place}[{number}][{axis}]",
                f": {name} point, {word}",
                dimension.figures[2 * number + axis],
            )


def figure_words(entry: str, figure: float, say: Say) -> str:
    """entry: the place of the figure; angles are told in degrees."""
    return f"{format_degrees(figure, 2)}°" if entry.rpartition(".")[2] in ANGLES else say(figure)


def known_words(mark: DimensionStatus | None) -> str:
    if mark is None:
        return NOBODY
    return f"{mark.words}, {mark.by}, {day_words(mark.on)}{with_day_words(words_of(mark.brought_in))}"


def _figures_of(dimension: Dimension, say: Say) -> Iterable[tuple[str, str]]:
    if dimension.leaf == "points":
        for number, name in enumerate(POINTS):
            x, y = dimension.figures[2 * number : 2 * number + 2]
            yield f": {name} point, along and across", f"{say(x)}, {say(y)}"
    else:
        yield "", figure_words(dimension.place, dimension.figures[0], say)
