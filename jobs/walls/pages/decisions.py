"""What of a wall asks for a decision, each matter with its number; reasons typed beside it, and what is undone."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from django.http import QueryDict

from catalog.core.ground.declared import Document
from catalog.core.ground.units import System, format_length
from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.specs import Sureness
from jobs.core.measure.bending import Bend, BendCheck, TrackCheck
from jobs.core.measure.curve import Face
from jobs.core.measure.findings import Finding
from jobs.core.takeoff.tight_bends import Tight, tight_bends
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.core.takeoff.ways_out import WayOut
from jobs.drawings.plan.plan_names import side_name
from jobs.walls.pages.form.words import VERDICTS

REASON, BACK = "reason:", "back:"
MAX_KEYS, MAX_KEY = 50, 200
SURE: dict[Sureness, str] = {
    "published": "published",
    "practice": "common practice",
    "memory": "a starter figure",
    "maker": "the maker's",
    "firm": "the firm's",
}


@dataclass(frozen=True)
class WayButton:
    """limit: of the way, and how sure it is."""

    key: str
    words: str
    limit: str


@dataclass(frozen=True)
class Decision:
    """A matter to decide. keys: of its checks. piece: by index, where it is of one; face: where it is of one.

    there, needed: the radius it has, and the least there may be; empty where no limit is concerned. ways: under which
    it passes, the nearest of each kind; others: all that pass beside them.
    """

    number: int
    title: str
    sentence: str
    keys: tuple[str, ...]
    piece: int | None = None
    face: Face | None = None
    there: str = ""
    needed: str = ""
    source: str = ""
    reason: str = ""
    ways: tuple[WayButton, ...] = ()
    others: tuple[WayButton, ...] = ()

    @property
    def entry(self) -> str:
        """Name of the entry its reason is typed in."""
        return REASON + " ".join(self.keys)


def decisions_of(wall: WallWorkUp, book: Catalog, on_day: date, reasons: Mapping[str, str]) -> list[Decision]:
    """reasons: what is being typed, by the keys of checks."""
    tight = tight_bends(wall, book, on_day)
    checked = {bend.key for one in tight for bend in one.bends}
    asked = [one for one in wall.findings if one.weight == "decide" and one.key not in checked]
    made = [*(_of_bends(one, wall, book) for one in tight), *(_of_finding(one) for one in asked)]
    return [
        replace(one, number=number, reason=next((reasons[key] for key in one.keys if key in reasons), ""))
        for number, one in enumerate(made, start=1)
    ]


def _of_finding(finding: Finding) -> Decision:
    title, _, rest = finding.sentence.partition(": " if ": " in finding.sentence[:60] else ". ")
    return Decision(0, title, f"{rest[:1].upper()}{rest[1:]}", (finding.key,), source=finding.source)


def bends_of(wall: WallWorkUp) -> Iterator[Bend]:
    """Every bend of a wall that is one: of boards, track and trim."""
    yield from (bend for bend in wall.bends if bend.verdict != "flat")


def _of_bends(tight: Tight, wall: WallWorkUp, book: Catalog) -> Decision:
    bend, system = tight.worst, book.firm.display_units
    what, of, face = _what(bend, wall, book)
    where = f"Piece {bend.piece_index + 1}. " if len(wall.curve.pieces) > 1 else ""
    made = Decision(
        0,
        f"{where}{what}: {VERDICTS[bend.verdict].lower()} for {of}",
        bend.sentence,
        tuple(one.key for one in tight.bends),
        bend.piece_index,
        face,
        source=bend.source,
        **_buttons(tight.ways, system),
    )
    if bend.verdict != "fails" or bend.least_radius_mm is None:
        return made
    there, needed = format_length(bend.radius_mm, system), format_length(bend.least_radius_mm, system)
    bands = {band.key: band.sentence for band in wall.check_bands if band.standing == "inside"}
    before = (one.sentence.partition("Decided by ")[2] for one in tight.bends)
    decided = next((f"Decided by {words}" for words in before if words), "")
    corner = (
        "No board bends this tight: use a curved corner, counted apart."
        if any(way.kind == "corner" for way in tight.ways)
        else ""
    )
    said = [f"Needs {needed}, bent to {there}.", corner, bands.get(bend.key, ""), decided]
    return replace(made, sentence=" ".join(filter(None, said)), there=there, needed=needed)


def _what(bend: Bend, wall: WallWorkUp, book: Catalog) -> tuple[str, str, Face | None]:
    """What is bent, of what, and on which face."""

    def name_of(code: str) -> str:
        return book.materials[code].name if code in book.materials else code

    if isinstance(bend, BendCheck):
        side = side_name(bend.face, wall.curve.pieces[bend.piece_index])
        how = f"{'across' if bend.direction == 'widthwise' else 'along'} the sheet, {bend.moisture}"
        return f"{side.capitalize()} boards, {bend.face} face", f"{name_of(bend.board)}, {how}", bend.face
    if isinstance(bend, TrackCheck):
        return "Track", name_of(bend.track), None
    run = next(plan.run for plan in wall.trims if bend in plan.arcs)
    return f"{run.name}, {run.face} face", name_of(run.material), run.face


def _buttons(ways: tuple[WayOut, ...], system: System) -> dict[str, tuple[WayButton, ...]]:
    nearest = {way.kind: way for way in reversed(ways)}
    first = tuple(_button(way, system) for way in ways if nearest[way.kind] is way)
    return {"ways": first, "others": tuple(_button(way, system) for way in ways if nearest[way.kind] is not way)}


def _button(way: WayOut, system: System) -> WayButton:
    if way.least_radius_mm is None or way.sure is None:
        return WayButton(way.key, way.words, "counted apart")
    return WayButton(way.key, way.words, f"to {format_length(way.least_radius_mm, system)}, {SURE[way.sure]}")


def reasons_in(data: QueryDict) -> dict[str, str]:
    """What was typed as a reason, by the keys of the checks it is for."""
    return {
        key[:MAX_KEY]: str(value)
        for name, value in data.items()
        if name.startswith(REASON) and str(value).strip()
        for key in name.removeprefix(REASON).split()[:MAX_KEYS]
    }


def with_decisions(document: Document, data: QueryDict, shown_as: str, by: str, on: date) -> Document:
    """The wall's document with the page's decisions in it, in the name of who is logged in.

    shown_as: the key the page knew the wall by; a new wall has its own only once it is stored.
    """
    reasons = {_keyed(key, shown_as, document["key"]): reason for key, reason in reasons_in(data).items()}
    back = {name.removeprefix(BACK) for name in data if name.startswith(BACK)}
    decisions = [entry for entry in document["overrides"] if entry["key"] not in back and entry["key"] not in reasons]
    new = [{"key": key, "reason": reason.strip(), "by": by, "on": on.isoformat()} for key, reason in reasons.items()]
    return document | {"overrides": [*decisions, *new]}


def _keyed(check: str, shown_as: str, wall_key: str) -> str:
    wall, slash, rest = check.partition("/")
    return f"{wall_key}{slash}{rest}" if wall == shown_as else check
