"""Which pieces a replacement orders, as boxes beside its line: so many of each kind; and more than is wanted."""

from dataclasses import dataclass

from django.http import QueryDict

from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.refusal import Refused
from catalog.core.ground.units import System, format_both, format_length
from jobs.core.ordering.chosen_pieces import PieceKind
from jobs.orders.models import Order, OrderLine
from jobs.orders.models.orders import MAX_QUANTITY
from jobs.orders.services.drafting import More
from jobs.orders.services.replaced_pieces import kinds_chosen, pieces_known, to_choose_from


@dataclass(frozen=True)
class KindBox:
    name: str
    words: str
    most: int
    value: str


@dataclass(frozen=True)
class Choice:
    """The boxes of one line; is_open: while nobody has said which."""

    boxes: tuple[KindBox, ...]
    is_open: bool


def choice_of(line: OrderLine, system: System) -> Choice | None:
    whole = to_choose_from(line)
    if whole is None:
        return None
    rows = enumerate(kinds_chosen(line, whole))
    boxes = (
        KindBox(_name(line.place, nth), _words(kind, system), kind.count, str(chosen or ""))
        for nth, (kind, chosen) in rows
    )
    return Choice(tuple(boxes), not pieces_known(line))


def pieces_typed(order: Order, data: QueryDict) -> dict[int, list[int]]:
    """By place of line; lines nobody typed anything for are left out. Raises Refused."""
    counts: dict[int, list[int]] = {}
    for line in order.lines.exclude(replaces=None).select_related("replaces"):
        whole = to_choose_from(line)
        names = [_name(line.place, nth) for nth, _ in enumerate(kinds_chosen(line, whole) if whole else ())]
        if any(data.get(name, "").strip() for name in names):
            counts[line.place] = [_count(line, data.get(name, "").strip()) for name in names]
    return counts


def more_typed(extra: str, reason: str) -> More | None:
    """How many more than wanted somebody typed; None for none. Raises Refused."""
    typed = {"extra": extra.strip()} if extra.strip() else {}
    try:
        count = Reader(typed).optional_decimal("extra", "0", str(MAX_QUANTITY))
    except DocumentError as error:
        raise Refused(f"How many more {error.complaints[0].reason.removeprefix('extra ')}.") from error
    return More(count, reason) if count else None


def _count(line: OrderLine, typed: str) -> int:
    if typed and not (typed.isascii() and typed.isdigit() and len(typed) <= 6):
        raise Refused(f"Line {line.place}: how many pieces is a whole number, such as 1; not {typed[:40]!r}.")
    return int(typed or 0)


def _name(place: int, nth: int) -> str:
    return f"pieces-{place}-{nth}"


def _words(kind: PieceKind, system: System) -> str:
    if kind.length_mm is None:
        return kind.label
    radii = ", ".join(f"{radius.side} R {format_both(radius.radius_mm)}" for radius in kind.radii)
    return f"{kind.run}, {kind.wall}: {format_length(kind.length_mm, system)}{f', {radii}' if radii else ''}"
