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
class CertificatePaper(FinishedText):
    """What was accepted, by whom, when and how: one sheet, for both to keep."""

    template: ClassVar[str] = "papers/certificate.html"
    fits: ClassVar[tuple[str, ...]] = ONE_SHEET

    number: str
    revision: str
    job_title: str
    firm: Party
    client: Party
    accepted_by: str
    accepted_on: str
    total: str
    facts: tuple[Measure, ...]
    price_lines: tuple[PriceLine, ...]
    window: tuple[str, ...]
    notes: tuple[str, ...] = ()
    sheet_size: SheetSize = "letter"
    language: str = "en"

    def __post_init__(self) -> None:
        super().__post_init__()
        if not self.window:
            raise SheetError("window is empty; say until when it can be cancelled, or that nothing is stated.")

    @property
    def title(self) -> str:
        return f"Certificate of acceptance, {self.number} revision {self.revision}: {self.job_title}"

    @property
    def title_block(self) -> tuple[TitleField, ...]:
        return (
            TitleField("Job", self.job_title),
            TitleField("Quotation", self.number),
            TitleField("Revision", self.revision),
            TitleField("Accepted", self.accepted_on),
        )
