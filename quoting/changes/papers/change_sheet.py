"""What a change note says, as finished text."""

from dataclasses import dataclass
from typing import ClassVar

from quoting.platform.papers.parts import (
    ONE_SHEET,
    FinishedText,
    Measure,
    Party,
    PriceLine,
    SheetError,
    SheetSize,
    TitleField,
)


@dataclass(frozen=True)
class ChangePaper(FinishedText):
    """A change of what was agreed: reason, priced lines, days, and what the contract comes to with it."""

    template: ClassVar[str] = "papers/change_note.html"
    fits: ClassVar[tuple[str, ...]] = ONE_SHEET

    number: str
    quote_number: str
    revision: str
    job_title: str
    change_title: str
    reason: str
    issued_on: str
    prepared_by: str
    firm: Party
    client: Party
    price_lines: tuple[PriceLine, ...]
    net_price: str
    tax_line: PriceLine
    total: str
    days: str
    contract: tuple[Measure, ...]
    swaps: tuple[str, ...] = ()
    original: str = ""
    replacement: str = ""
    site_lines: tuple[str, ...] = ()
    acceptance: tuple[str, ...] = ()
    sheet_size: SheetSize = "letter"
    language: str = "en"

    def __post_init__(self) -> None:
        super().__post_init__()
        for name in ("price_lines", "contract", "acceptance"):
            if not getattr(self, name):
                raise SheetError(f"{name} is empty; a change note has at least one entry there.")

    @property
    def title(self) -> str:
        return f"Change note {self.number} to quotation {self.quote_number}: {self.change_title}"

    @property
    def signatories(self) -> tuple[str, str]:
        return self.client.name, self.firm.name

    @property
    def title_block(self) -> tuple[TitleField, ...]:
        return (
            TitleField("Job", self.job_title),
            TitleField("Quotation", f"{self.quote_number}, revision {self.revision}"),
            TitleField("Change note", self.number),
            TitleField("Date", self.issued_on),
        )
