"""Which entries of a wall's form are shown: those that what is chosen beside them asks for."""

from catalog.core.materials.specs import ROLES
from jobs.walls.pages.labels import NO_TURN, WAYS, Options
from jobs.walls.pages.site_labels import FIGURES_OF_WAYS, READING_FIGURES

CASING_ENTRIES = frozenset({"casing_head", "casing_reveal", "casing_faces"})
ANYTHING = ("*",)
# The entry that is asked, and the words of it with which an entry is shown.
Condition = tuple[str, tuple[str, ...]]


def condition_of(rows: str, entry: str) -> Condition | None:
    """None for an entry that is always shown. rows: the list it stands in, "" for one of the wall itself."""
    if rows == "pieces":
        return _of_piece(entry)
    if rows == "readings" and entry in READING_FIGURES:
        return "reading_way", tuple(way for way, figures in FIGURES_OF_WAYS.items() if entry in figures)
    if rows == "openings" and entry == "arch_rise":
        return "head", ("arch",)
    if rows == "openings" and entry in CASING_ENTRIES:
        return "casing_legs", ANYTHING
    return ("height_way", ("level",)) if (rows, entry) == ("", "height") else None


def _of_piece(entry: str) -> Condition | None:
    if entry in ("way", "kink"):
        return None
    if entry == "turn":
        return "way", tuple(way for way in WAYS if way not in NO_TURN)
    if entry == "measured_on":
        return "way", tuple(way for way in WAYS if way != "straight")
    return "way", tuple(way for way, (_, figures) in WAYS.items() if entry in figures)


def is_shown(rows: str, row: dict[str, str], entry: str) -> bool:
    condition = condition_of(rows, entry)
    if condition is None:
        return True
    chosen, words = row[condition[0]], condition[1]
    return bool(chosen) if words == ANYTHING else chosen in words


def kit_groups(offered: dict[str, Options]) -> tuple[tuple[str, str, Options], ...]:
    """What may be taken as each role: the role, its label, the materials."""
    return tuple((role, label, offered[kind]) for role, (kind, label) in ROLES.items())
