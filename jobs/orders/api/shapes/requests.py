"""What is sent to the API of orders."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated, Any, Literal

from catalog.core.ground.declared import Custom, Declared, Items, Number, Text, Whole
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.request_keys import RequestKey
from jobs.orders.models.orders import MAX_QUANTITY, DeliverTo
from jobs.orders.services.drafting import More

MAX_LINES = 200
MAX_PLACE = 5000
Place = Annotated[int, Whole(0, MAX_PLACE), "Of the line on its order."]


def whole_number(what: str, most: int) -> Custom:
    """A whole number written as such."""

    def reading(reader: Reader, name: str) -> Any:
        value = reader.raw(name)
        if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= most:
            raise reader.error(name, f"must be {what}, a whole number from 0 to {most}")
        return value

    return Custom(reading, int, {"type": "integer", "minimum": 0, "maximum": most})


@dataclass(frozen=True, kw_only=True)
class Beyond:
    """More than a job wants, with the reason; none where no figure is given."""

    extra: Annotated[Decimal | None, Number(high=str(MAX_QUANTITY)), "More than the job needs."] = None
    reason: str = ""

    @property
    def more(self) -> More | None:
        return More(self.extra, self.reason) if self.extra else None


@dataclass(frozen=True, kw_only=True)
class ItemNamed(Beyond):
    """One material of one job, the job by its key; with a reason more than the job needs."""

    job: str
    material: str


@dataclass(frozen=True)
class NewOrder:
    """Items of one supplier."""

    request_key: RequestKey
    supplier: str
    items: Annotated[tuple[ItemNamed, ...], Items(Declared(ItemNamed), MAX_LINES), "At least one."]


@dataclass(frozen=True, kw_only=True)
class MoreOfLine(Beyond):
    """No extra: no more."""

    place: Place


@dataclass(frozen=True)
class ChosenPieces:
    """How many of each of the line's choices, in their order."""

    place: Place
    counts: Annotated[tuple[int, ...], Items(whole_number("how many of that kind", 1_000_000), MAX_LINES)]


@dataclass(frozen=True)
class OrderChange:
    """What is not said stays."""

    note: str | None = None
    supplier: Annotated[str | None, "Another one who offers all that is on it; the jobs then buy it there."] = None
    deliver_to: Annotated[str, Custom(Reader.text, str, {"enum": DeliverTo.values})] = ""
    rush: Annotated[
        tuple[int, ...] | None,
        Items(whole_number("the place of a line", MAX_PLACE), MAX_LINES),
        "Places of the lines to be rushed, all others not.",
    ] = None
    pieces: Annotated[tuple[ChosenPieces, ...], Items(Declared(ChosenPieces), MAX_LINES)] = ()
    more: Annotated[tuple[MoreOfLine, ...], Items(Declared(MoreOfLine), MAX_LINES)] = ()
    take_off: Annotated[int | None, Whole(0, MAX_PLACE), "The place of a line."] = None
    up_to_date: bool = False


@dataclass(frozen=True)
class Placing:
    """An order by mail, with its address and message, or otherwise."""

    way: Literal["mail", "other"]
    request_key: RequestKey
    to_address: Annotated[str, Text(longest=254)] = ""
    message: Annotated[str, Text(longest=5000)] = ""
    unsigned_reason: Annotated[str, "Why goods of unsigned jobs are ordered."] = ""


@dataclass(frozen=True)
class NewRelease:
    """Of an item, in its job's name."""

    mark: Annotated[str, Text(longest=64), "Of the statement that was read."]
    reason: Annotated[str, "Why holds that may be set aside are."] = ""


@dataclass(frozen=True)
class NewSample:
    """A sample or a choice to be asked for."""

    material: Annotated[str, Text(longest=60)]
    what: Annotated[str, Text(longest=300), "Profile, size, grade, colour."]


@dataclass(frozen=True)
class Agreement:
    """Somebody agreed to a sample."""

    agreed_by: Annotated[str, Text(longest=200)]
