"""What a claim says to the supplier, as finished text."""

from dataclasses import dataclass
from typing import ClassVar

from jobs.orders.papers.pieces import PieceRow
from quoting.platform.papers.parts import FinishedText, Measure, Party, SheetSize, TitleField
from quoting.platform.papers.photos import PaperPhoto


@dataclass(frozen=True)
class ClaimLetterPaper(FinishedText):
    """order: its number, and the line. facts: of the order and the delivery. came: in words. pieces: the bad ones."""

    template: ClassVar[str] = "papers/claim_letter.html"

    order: str
    written_on: str
    written_by: str
    firm: Party
    supplier: Party
    facts: tuple[Measure, ...]
    what: str
    ordered: str
    came: str
    asks: str
    note: str = ""
    pieces: tuple[PieceRow, ...] = ()
    photos: tuple[PaperPhoto, ...] = ()
    sheet_size: SheetSize = "letter"
    language: str = "en"

    @property
    def title(self) -> str:
        return f"Claim, {self.order}"

    @property
    def title_block(self) -> tuple[TitleField, ...]:
        return (
            TitleField("Claim", self.order),
            TitleField("To", self.supplier.name),
            TitleField("Date", self.written_on),
            TitleField("Written by", self.written_by),
        )
