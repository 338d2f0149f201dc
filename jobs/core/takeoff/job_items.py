"""What a job buys beside its walls: items by count or by a rule, each for a day or for an activity."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.declared import As, Choice, Number, Text, build, read_fields
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.plain_text import key_of_name, plain
from catalog.core.ground.refusal import EntryError
from catalog.core.ground.units import convert
from catalog.core.materials.catalog_data import Catalog
from catalog.core.materials.specs import Material
from jobs.core.measure.curve import FACES
from jobs.core.measure.explanation import Explanation
from jobs.core.measure.findings import Finding
from jobs.core.takeoff.wall_work_up import WallWorkUp

RULES: Mapping[str, str] = {
    "count": "by count",
    "ft_of_trim": "for each foot of trim",
    "m_of_trim": "for each metre of trim",
    "opening": "for each opening",
    "trim_piece": "for each piece of trim",
    "workday": "for each working day",
    "sqft_of_face": "for each square foot of face",
    "sqm_of_face": "for each square metre of face",
}
"""How much of an item a job takes: so much in all, or so much for each of these."""

ITEMS = "items"
"""Keys of the lines of items begin with it."""
MAX_QUANTITY = Decimal(1_000_000)
_PLACES = Decimal("0.000001")


class JobItemError(EntryError):
    """An item that cannot be."""


@dataclass(frozen=True)
class JobItem:
    """An item of the job that is on no wall.

    By working days, those of the activity count; without one those of the whole job on site.

    Raises:
        JobItemError: an unknown rule, a quantity out of range, or neither an activity nor a day.

    Source: own rule.

    >>> JobItem("door", "DOOR-SET", "count", Decimal(1), "trim").need_by is None
    True
    """

    key: Annotated[
        str,
        Text(60, "^[^/]*$"),
        "Its key, once in the job; one is made of the material when it is left out.",
        As(absent=""),
    ]
    material: Annotated[str, Text(60), "Code of what is bought."]
    rule: Annotated[
        str,
        Choice(tuple(RULES)),
        "How much is bought: `quantity` in all by count, else `quantity` for each of these. Foot or metre of trim, "
        "opening, piece of trim, working day of its activity or of the work, square foot or square metre of face.",
        As(absent="count"),
    ]
    quantity: Annotated[
        Decimal,
        Number(str(_PLACES), str(MAX_QUANTITY)),
        "In the unit the material is used in, 0.000001 to 1000000.",
    ]
    activity: Annotated[
        str | None,
        Text(60, empty_is_none=True),
        "Key of the activity it must be on site for; needed without need_by.",
    ] = None
    need_by: Annotated[date | None, "The day it must be on site; needed without an activity."] = None

    @classmethod
    def from_document(cls, reader: Reader) -> JobItem:
        values = read_fields(cls, reader)
        key = values["key"] or key_of_name(values["material"])
        if "/" in key:
            raise reader.error("key", f'{key!r} must hold no "/"')
        return build(cls, reader, values | {"key": key, "quantity": values["quantity"].normalize()})

    def __post_init__(self) -> None:
        if self.rule not in RULES:
            raise JobItemError("rule", f'"{self.rule}" is not one of {", ".join(RULES)}')
        if not (self.quantity.is_finite() and 0 < self.quantity <= MAX_QUANTITY):
            raise JobItemError("quantity", f"{self.quantity} must be over 0 and at most {MAX_QUANTITY:,}")
        if self.activity is None and self.need_by is None:
            raise JobItemError("need_by", "give the day it must be on site, or the activity it is for")


@dataclass(frozen=True)
class SiteDays:
    """Working days of a job: of each activity by key, and of the whole work; None while it is not dated."""

    of_activity: Mapping[str, int]
    in_all: int | None


NO_DAYS = SiteDays({}, None)


@dataclass(frozen=True)
class ItemQuantity:
    """A net quantity of one item in the unit its material is used in. wall: a key, empty for the job as a whole."""

    key: str
    wall: str
    label: str
    net: Decimal
    explanation: Explanation
    material: Material


def item_key(item: JobItem, wall: str = "") -> str:
    """The key of an item's line. item: of the job. wall: its part of it, empty for the whole. Returns the key."""
    return f"{ITEMS}/{item.key}/{wall}" if wall else f"{ITEMS}/{item.key}"


def is_of_item(key: str) -> bool:
    """Whether a takeoff line is of an item. key: of the line.

    >>> is_of_item("items/door"), is_of_item("screen/tape")
    (True, False)
    """
    return key.startswith(f"{ITEMS}/")


def item_quantities(
    items: Iterable[JobItem], walls: Sequence[WallWorkUp], book: Catalog, days: SiteDays
) -> Iterator[ItemQuantity | Finding]:
    """The net quantity of each item, by wall where its rule follows the walls.

    Args:
        items: of the job. walls: worked up. book: the catalog. days: of the job's activities.

    Returns:
        Quantities over 0; in place of one that cannot be worked out a gap. An item of which the walls ask for nothing
        is a caution.

    Source: own rule.

    >>> list(item_quantities((), (), None, NO_DAYS))
    []
    """
    for item in items:
        material = book.materials.get(item.material)
        if material is None:
            sentence = f"The job's items name {item.material}, which the catalog does not hold; add it there."
            yield Finding(f"{item_key(item)}/material", "gap", sentence)
            continue
        if days.of_activity and item.activity is not None and item.activity not in days.of_activity:
            yield _no_activity(item, material, days)
        if item.rule == "count":
            why = Explanation("By count, entered for this job", (_entered(item, material),), "Entered for this job")
            yield ItemQuantity(item_key(item), "", material.name, item.quantity, why, material)
        elif item.rule == "workday":
            yield from _by_days(item, material, days)
        else:
            yield from _by_walls(item, material, walls)


def _entered(item: JobItem, material: Material) -> tuple[str, str]:
    label = RULES[item.rule].capitalize()
    return label, f"{plain(item.quantity)} {material.unit_used}"


def _no_activity(item: JobItem, material: Material, days: SiteDays) -> Finding:
    sentence = (
        f'{material.name} is for the activity "{item.activity}", which this job does not have; these are '
        f"{', '.join(days.of_activity)}."
    )
    return Finding(f"{item_key(item)}/activity", "caution", sentence)


def _by_days(item: JobItem, material: Material, days: SiteDays) -> Iterator[ItemQuantity | Finding]:
    count = days.in_all if item.activity is None else days.of_activity.get(item.activity)
    if count is None:
        what = "the first day on site" if item.activity is None else "an activity this job has"
        sentence = f"{material.name} is counted by working days, which are not known: enter {what}."
        yield Finding(f"{item_key(item)}/days", "gap", sentence)
        return
    yield from _times(item, material, "", Decimal(count), _counted(count, "working day"))


def _by_walls(item: JobItem, material: Material, walls: Sequence[WallWorkUp]) -> Iterator[ItemQuantity | Finding]:
    quantities = [quantity for wall in walls for quantity in _of_wall(item, material, wall)]
    if not quantities:
        sentence = (
            f"{material.name} is counted {RULES[item.rule]}, and no wall of this job has any: nothing of it is bought."
        )
        yield Finding(f"{item_key(item)}/none", "caution", sentence)
    yield from quantities


def _of_wall(item: JobItem, material: Material, wall: WallWorkUp) -> Iterator[ItemQuantity]:
    if item.rule == "opening":
        count = len(wall.spec.openings)
        yield from _times(item, material, wall.spec.key, Decimal(count), _counted(count, "opening"))
    elif item.rule == "trim_piece":
        count = sum(len(trim.pieces) for trim in wall.trims)
        yield from _times(item, material, wall.spec.key, Decimal(count), _counted(count, "piece"))
    elif item.rule in ("ft_of_trim", "m_of_trim"):
        net_mm = sum(trim.net_mm for trim in wall.trims)
        yield from _measured(item, material, wall.spec.key, net_mm, "mm", item.rule.partition("_")[0])
    else:
        area_sqm = sum(wall.finished_area_mm2(face) for face in FACES) / 1e6
        yield from _measured(item, material, wall.spec.key, area_sqm, "sqm", item.rule.partition("_")[0])


def _counted(count: int, word: str) -> str:
    return f"{count} {word}{'' if count == 1 else 's'}"


def _measured(
    item: JobItem, material: Material, wall: str, value: float, unit: str, wanted: str
) -> Iterator[ItemQuantity]:
    per = convert(Decimal(repr(float(value))), unit, wanted)
    yield from _times(item, material, wall, per, f"{plain(per.quantize(Decimal('0.01')))} {wanted}")


def _times(item: JobItem, material: Material, wall: str, count: Decimal, words: str) -> Iterator[ItemQuantity]:
    net = (item.quantity * count).quantize(_PLACES)
    if net > 0:
        inputs = (_entered(item, material), ("Of this job" if not wall else "Of this wall", words))
        why = Explanation(f"So much {RULES[item.rule]}, times how many there are", inputs, "Entered for this job")
        yield ItemQuantity(item_key(item, wall), wall, material.name, net, why, material)
