"""What a paper says, as finished text: services fill these, the templates only set them in type."""

from dataclasses import dataclass
from typing import Literal

from quoting.papers.drawings import Drawing

SheetSize = Literal["letter", "a4"]
SHEET_SIZES = ("letter", "a4")


class SheetError(ValueError):
    pass


def _need_text(owner: object, *names: str) -> None:
    for name in names:
        value = getattr(owner, name)
        if not isinstance(value, str) or not value.strip():
            raise SheetError(
                f"{type(owner).__name__}.{name} is {value!r}; it must be text that is not empty."
            )


def _need_sheet_size(size: str) -> None:
    if size not in SHEET_SIZES:
        raise SheetError(f"sheet_size is {size!r}; it must be one of: {', '.join(SHEET_SIZES)}.")


@dataclass(frozen=True)
class Party:
    name: str
    lines: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        _need_text(self, "name")


@dataclass(frozen=True)
class Measure:
    label: str
    value: str
    note: str = ""

    def __post_init__(self) -> None:
        _need_text(self, "label", "value")


@dataclass(frozen=True)
class QuoteWall:
    name: str
    scope: tuple[str, ...]
    figures: tuple[Measure, ...] = ()
    drawings: tuple[Drawing, ...] = ()

    def __post_init__(self) -> None:
        _need_text(self, "name")
        if not any(sentence.strip() for sentence in self.scope):
            raise SheetError(f"scope of the wall {self.name!r} is empty; say in words what will be built.")


@dataclass(frozen=True)
class TrimRow:
    wall: str
    face: str
    profile: str
    curve: str
    radius: str
    length: str
    note: str = ""

    def __post_init__(self) -> None:
        _need_text(self, "wall", "face", "profile", "curve", "radius", "length")


@dataclass(frozen=True)
class PriceLine:
    what: str
    amount: str
    detail: str = ""

    def __post_init__(self) -> None:
        _need_text(self, "what", "amount")


@dataclass(frozen=True)
class InstalmentLine:
    event: str
    share: str
    amount: str

    def __post_init__(self) -> None:
        _need_text(self, "event", "share", "amount")


@dataclass(frozen=True)
class DateLine:
    event: str
    day: str
    note: str = ""

    def __post_init__(self) -> None:
        _need_text(self, "event", "day")


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
class QuotePaper:
    number: str
    revision: str
    job_title: str
    issued_on: str
    valid_until: str
    prepared_by: str
    firm: Party
    client: Party
    walls: tuple[QuoteWall, ...]
    price_lines: tuple[PriceLine, ...]
    total: str
    acceptance: tuple[str, ...]
    net_price: str = ""
    site_lines: tuple[str, ...] = ()
    introduction: tuple[str, ...] = ()
    trim: tuple[TrimRow, ...] = ()
    tax_lines: tuple[PriceLine, ...] = ()
    price_notes: tuple[str, ...] = ()
    instalments: tuple[InstalmentLine, ...] = ()
    dates: tuple[DateLine, ...] = ()
    inclusions: tuple[str, ...] = ()
    exclusions: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    measured_by: str = ""
    sheet_size: SheetSize = "letter"
    language: str = "en"

    def __post_init__(self) -> None:
        _need_text(
            self, "number", "revision", "job_title", "issued_on", "valid_until", "prepared_by", "total"
        )
        _need_text(self, "language")
        _need_sheet_size(self.sheet_size)
        for name in ("walls", "price_lines", "acceptance"):
            if not getattr(self, name):
                raise SheetError(f"{name} is empty; a quotation has at least one entry there.")
        if self.tax_lines and not self.net_price.strip():
            raise SheetError("net_price is empty; it is printed above the tax.")

    @property
    def title(self) -> str:
        return f"Quotation {self.number}, revision {self.revision}: {self.job_title}"

    @property
    def signatories(self) -> tuple[str, str]:
        return self.client.name, self.firm.name

    @property
    def terms(self) -> tuple[Terms, ...]:
        parts = (
            Terms("Included", self.inclusions),
            Terms("Not included", self.exclusions),
            Terms("Assumptions", self.assumptions),
            Terms("Cautions", self.cautions, is_caution=True),
        )
        return tuple(part for part in parts if part.items)

    @property
    def title_block(self) -> tuple[TitleField, ...]:
        fields = (
            TitleField("Job", self.job_title),
            TitleField("Quotation", self.number),
            TitleField("Revision", self.revision),
            TitleField("Date", self.issued_on),
            TitleField("Measured by", self.measured_by),
        )
        return tuple(field for field in fields if field.value)


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
        _need_text(self, "item", "supplier", "days_in_hand_text", "standing")
        _need_text(self, "decide_by", "order_by", "ship", "dock", "need_by")
        if isinstance(self.days_in_hand, bool) or not isinstance(self.days_in_hand, int):
            raise SheetError(
                f"days_in_hand is {self.days_in_hand!r}; it must be a whole number of working days."
            )


@dataclass(frozen=True)
class OrderDatesPaper:
    job_title: str
    as_of: str
    prepared_by: str
    firm: Party
    rows: tuple[OrderDateRow, ...]
    time_line: Drawing | None = None
    # Items without a lead time or a need-by day: named here, never dated by guess.
    gaps: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    sheet_size: SheetSize = "letter"
    language: str = "en"

    def __post_init__(self) -> None:
        _need_text(self, "job_title", "as_of", "prepared_by", "language")
        _need_sheet_size(self.sheet_size)

    @property
    def title(self) -> str:
        return f"Order dates: {self.job_title}, as of {self.as_of}"

    @property
    def rows_by_days_in_hand(self) -> tuple[OrderDateRow, ...]:
        return tuple(sorted(self.rows, key=lambda row: (row.days_in_hand, row.item)))

    @property
    def title_block(self) -> tuple[TitleField, ...]:
        return (
            TitleField("Job", self.job_title),
            TitleField("Paper", "Order dates, for the office only"),
            TitleField("As of", self.as_of),
            TitleField("Prepared by", self.prepared_by),
        )
