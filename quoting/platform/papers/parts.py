"""The lines and blocks papers are made of, as finished text."""

from dataclasses import MISSING, dataclass, fields
from functools import cache
from typing import Annotated, Any, Literal

from catalog.core.ground.declared import View
from quoting.platform.papers.drawings import Drawing
from quoting.platform.papers.photos import PaperPhoto

SheetSize = Literal["letter", "a4"]
SHEET_SIZES = ("letter", "a4")
# For a paper that is to stand on one sheet: as it is, closer, and as close as can be read.
ONE_SHEET = (
    "",
    *(
        f"main h2, main .acceptance {{ margin-top: {gap}mm; }} main {{ line-height: {line}; }} "
        f"main, main table {{ font-size: {size}pt; }} main .opening {{ margin: {gap}mm 0 2mm; }} "
        f"main h1 {{ font-size: 17pt; }} main .parties > div {{ padding-top: 1mm; padding-bottom: 1mm; }} "
        f"main tbody th, main tbody td {{ padding-top: {row}mm; padding-bottom: {row}mm; }} "
        f"main .signatures {{ margin-top: {gap}mm; }} main .signatures .party .line {{ margin-top: {sign}mm; }}"
        for gap, size, line, row, sign in ((4.0, 9.0, 1.3, 0.6, 8), (2.0, 8.0, 1.16, 0.2, 5))
    ),
)
OrEmpty = Annotated[str, "It may be empty."]


class SheetError(ValueError):
    pass


class FinishedText:
    """Text for people: what has no default is not empty, unless it is `OrEmpty`; nor is the language."""

    def __post_init__(self) -> None:
        for name in _needed(type(self)):
            value = getattr(self, name)
            if not isinstance(value, str) or not value.strip():
                raise SheetError(f"{type(self).__name__}.{name} is {value!r}; it must be text that is not empty.")
        size = getattr(self, "sheet_size", SHEET_SIZES[0])
        if size not in SHEET_SIZES:
            raise SheetError(f"sheet_size is {size!r}; it must be one of: {', '.join(SHEET_SIZES)}.")


@cache
def _needed(kind: Any) -> tuple[str, ...]:
    texts = [field for field in fields(kind) if field.type is str]
    return tuple(field.name for field in texts if field.default is MISSING or field.name == "language")


@dataclass(frozen=True)
class Party(FinishedText):
    name: str
    lines: tuple[str, ...] = ()
    mark: PaperPhoto | None = None


@dataclass(frozen=True)
class Measure(View, FinishedText):
    label: str
    value: str
    note: str = ""


@dataclass(frozen=True)
class QuoteWall(FinishedText):
    name: str
    scope: tuple[str, ...]
    figures: tuple[Measure, ...] = ()
    drawings: tuple[Drawing, ...] = ()
    photos: tuple[PaperPhoto, ...] = ()
    # A heading and a row for each piece; none for a wall of a single piece.
    pieces: tuple[tuple[str, ...], ...] = ()

    def __post_init__(self) -> None:
        super().__post_init__()
        if not any(sentence.strip() for sentence in self.scope):
            raise SheetError(f"scope of the wall {self.name!r} is empty; say in words what will be built.")


@dataclass(frozen=True)
class BendRow(FinishedText):
    side: str
    radius: str


@dataclass(frozen=True)
class TrimRow(FinishedText):
    """bends: every piece of the wall the run follows; without them the tightest radius stands alone."""

    wall: str
    face: str
    profile: str
    curve: str
    radius: str
    length: str
    note: str = ""
    bends: tuple[BendRow, ...] = ()


@dataclass(frozen=True)
class PriceLine(FinishedText):
    what: str
    amount: str
    detail: str = ""


@dataclass(frozen=True)
class OptionRow(FinishedText):
    """What the client may tick. group: the choice it is an alternate of, empty when it stands by itself."""

    title: str
    amount: str
    group: str = ""
    text: str = ""


@dataclass(frozen=True)
class NoticeText(FinishedText):
    """A notice as it was in force on the day of issue."""

    title: str
    paragraphs: tuple[str, ...]
    about: str
    language: str

    def __post_init__(self) -> None:
        super().__post_init__()
        if not self.paragraphs:
            raise SheetError(f"the notice {self.title!r} is empty; leave it out or enter its text.")


@dataclass(frozen=True)
class InstalmentLine(FinishedText):
    event: str
    share: str
    amount: str


@dataclass(frozen=True)
class DateLine(FinishedText):
    event: str
    day: str
    note: str = ""


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
class OrderDateRow(FinishedText):
    item: str
    supplier: str
    days_in_hand: int
    days_in_hand_text: str
    standing: str
    decide_by: OrEmpty
    order_by: str
    ship: str
    dock: str
    need_by: str
    needs_decision: bool = False
    note: str = ""

    def __post_init__(self) -> None:
        super().__post_init__()
        if isinstance(self.days_in_hand, bool) or not isinstance(self.days_in_hand, int):
            raise SheetError(f"days_in_hand is {self.days_in_hand!r}; it must be a whole number of working days.")
