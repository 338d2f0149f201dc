"""The ways out of a bend beside what is to be decided of it: a button each, and how sure the limit it keeps is."""

from collections.abc import Iterable
from dataclasses import dataclass

from catalog.core.ground.units import System, format_length
from catalog.core.materials.specs import Sureness
from jobs.core.takeoff.tight_bends import Tight
from jobs.core.takeoff.ways_out import WayOut

TAKE_WAY = "way:"
SURE: dict[Sureness, str] = {
    "published": "published",
    "practice": "common practice",
    "memory": "a starter figure",
    "maker": "the maker's",
    "firm": "the firm's",
}


@dataclass(frozen=True)
class WayButton:
    key: str
    words: str
    limit: str


@dataclass(frozen=True)
class WayButtons:
    """first: the nearest of each kind. others: all that pass beside them. corner: no board bends so tight."""

    first: tuple[WayButton, ...] = ()
    others: tuple[WayButton, ...] = ()
    corner: bool = False


NO_WAYS = WayButtons()


def way_buttons(keys: Iterable[str], tight: Iterable[Tight], system: System) -> WayButtons:
    """keys: of the checks that are decided together."""
    wanted = {*keys}
    ways = next((one.ways for one in tight if wanted & {bend.key for bend in one.bends}), ())
    first = {way.kind: way for way in reversed(ways)}
    nearest = [way for way in ways if first[way.kind] is way]
    others = [way for way in ways if first[way.kind] is not way]
    rows = [tuple(_button(way, system) for way in part) for part in (nearest, others)]
    return WayButtons(rows[0], rows[1], "corner" in first)


def _button(way: WayOut, system: System) -> WayButton:
    if way.least_radius_mm is None or way.sure is None:
        return WayButton(way.key, way.words, "counted apart")
    return WayButton(way.key, way.words, f"from {format_length(way.least_radius_mm, system)}, {SURE[way.sure]}")
