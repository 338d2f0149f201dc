"""What a paper says, as finished text: services fill these, the templates only set them in type."""

from dataclasses import dataclass
from typing import ClassVar

from quoting.platform.papers.parts import (
    DateLine,
    FinishedText,
    InstalmentLine,
    NoticeText,
    OptionRow,
    Party,
    PriceLine,
    QuoteWall,
    SheetError,
    SheetSize,
    Terms,
    TitleField,
    TrimRow,
)


@dataclass(frozen=True)
class QuotePaper(FinishedText):
    template: ClassVar[str] = "papers/quote.html"

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
    access: tuple[str, ...] = ()
    warranty: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()
    options: tuple[OptionRow, ...] = ()
    allowances: tuple[str, ...] = ()
    notice: NoticeText | None = None
    # How the acceptance can be taken back; empty where no window is stated.
    taking_back: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        super().__post_init__()
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
            Terms("Site and access", self.access),
            Terms("Assumptions", self.assumptions),
            Terms("Cautions", self.cautions, is_caution=True),
            Terms("Warranty", self.warranty),
            Terms("Terms", self.conditions),
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
