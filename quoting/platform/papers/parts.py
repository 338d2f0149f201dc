"""The lines and blocks papers are made of, as finished text."""

from dataclasses import dataclass
from typing import Literal

from catalog.core.ground.declared import View
from quoting.platform.papers.drawings import Drawing
from quoting.platform.papers.photos import PaperPhoto

SheetSize = Literal["letter", "a4"]
SHEET_SIZES = ("letter", "a4")


class SheetError(ValueError):
    pass


def need_text(owner: object, *names: str) -> None:
    for name in names:
        value = getattr(owner, name)
        if not isinstance(value, str) or not value.strip():
            raise SheetError(f"{type(owner).__name__}.{name} is {value!r}; it must be text that is not empty.")


def need_sheet_size(size: str) -> None:
    if size not in SHEET_SIZES:
        raise SheetError(f"sheet_size is {size!r}; it must be one of: {', '.join(SHEET_SIZES)}.")


@dataclass(frozen=True)
class Party:
    name: str
    lines: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        need_text(self, "name")


@dataclass(frozen=True)
class Measure(View):
    label: str
    value: str
    note: str = ""

    def __post_init__(self) -> None:
        need_text(self, "label", "value")


@dataclass(frozen=True)
class QuoteWall:
    name: str
    scope: tuple[str, ...]
    figures: tuple[Measure, ...] = ()
    drawings: tuple[Drawing, ...] = ()
    photos: tuple[PaperPhoto, ...] = ()

    def __post_init__(self) -> None:
        need_text(self, "name")
        if not any(sentence.strip() for sentence in self.scope):
            raise SheetError(f"scope of the wall {self.name!r} is empty; say in words what will be built.")


@dataclass(frozen=True)
class BendRow:
    side: str
    radius: str

    def __post_init__(self) -> None:
        need_text(self, "side", "radius")


@dataclass(frozen=True)
class TrimRow:
    """bends: every piece of the wall the run follows; without them the tightest radius stands alone."""

    wall: str
    face: str
    profile: str
    curve: str
    radius: str
    length: str
    note: str = ""
    bends: tuple[BendRow, ...] = ()

    def __post_init__(self) -> None:
        need_text(self, "wall", "face", "profile", "curve", "radius", "length")


@dataclass(frozen=True)
class PriceLine:
    what: str
    amount: str
    detail: str = ""

    def __post_init__(self) -> None:
        need_text(self, "what", "amount")


@dataclass(frozen=True)
class OptionRow:
    """What the client may tick. group: the choice it is an alternate of, empty when it stands by itself."""

    title: str
    amount: str
    group: str = ""
    text: str = ""

    def __post_init__(self) -> None:
        need_text(self, "title", "amount")


@dataclass(frozen=True)
class NoticeText:
    """A notice as it was in force on the day of issue."""

    title: str
    paragraphs: tuple[str, ...]
    about: str
    language: str

    def __post_init__(self) -> None:
        need_text(self, "title", "about", "language")
        if not self.paragraphs:
            raise SheetError(f"the notice {self.title!r} is empty; leave it out or enter its text.")


@dataclass(frozen=True)
class InstalmentLine:
    event: str
    share: str
    amount: str

    def __post_init__(self) -> None:
        need_text(self, "event", "share", "amount")


@dataclass(frozen=True)
class DateLine:
    event: str
    day: str
    note: str = ""

    def __post_init__(self) -> None:
        need_text(self, "event", "day")


@dataclass(frozen=True)
class TitleField:
    label: str
    value: str


@dataclass(frozen=True)
class Terms:
    heading: str
    items: tuple[str, ...]
    is_caution: bool = False


@dataclass(frozen=True)
class OrderDateRow:
    item: str
    supplier: str
    days_in_hand: int
    days_in_hand_text: str
    standing: str
    decide_by: str
    order_by: str
    ship: str
    dock: str
    need_by: str
    needs_decision: bool = False
    note: str = ""

    def __post_init__(self) -> None:
        need_text(self, "item", "supplier", "days_in_hand_text", "standing")
        need_text(self, "order_by", "ship", "dock", "need_by")
        if isinstance(self.days_in_hand, bool) or not isinstance(self.days_in_hand, int):
            raise SheetError(f"days_in_hand is {self.days_in_hand!r}; it must be a whole number of working days.")
