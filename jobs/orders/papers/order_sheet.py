"""What an order sheet says to its supplier, as finished text."""

from dataclasses import dataclass
from typing import ClassVar

from jobs.orders.papers.pieces import PieceRow
from quoting.platform.papers.drawings import Drawing
from quoting.platform.papers.parts import FinishedText, Measure, Party, SheetError, SheetSize, TitleField


@dataclass(frozen=True)
class SheetRadius(FinishedText):
    """A radius to make a piece to, with the face it is measured at: without it the figure means nothing."""

    piece: str
    side: str
    radius: str
    measured_at: str
    arc_length: str


@dataclass(frozen=True)
class SheetRun(FinishedText):
    """Pieces made for one wall: one by one, or of orders that did not state where each goes how many of each length.

    notes: sentences under the pieces.
    """

    name: str
    facts: tuple[Measure, ...]
    radii: tuple[SheetRadius, ...]
    pieces: tuple[Measure, ...]
    piece_rows: tuple[PieceRow, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class SheetLine(FinishedText):
    place: str
    what: str
    quantity: str
    job: str
    dock_by: str
    packs: tuple[str, ...] = ()
    runs: tuple[SheetRun, ...] = ()
    profile: Drawing | None = None
    amount: str = ""
    note: str = ""
    missing: tuple[str, ...] = ()


@dataclass(frozen=True)
class OrderSheetPaper(FinishedText):
    """An order, or the draft of one: it then says so at the head, and what is still missing with each line.

    reference: by which we know it. sums: goods, freight and what they come to. terms: the supplier's own, as sentences.
    """

    template: ClassVar[str] = "papers/order_sheet.html"

    number: str
    is_draft: bool
    ordered_on: str
    prepared_by: str
    reference: str
    confirm_by: str
    dock_by: str
    firm: Party
    supplier: Party
    deliver_to: Party
    lines: tuple[SheetLine, ...]
    sums: tuple[Measure, ...]
    terms: tuple[str, ...] = ()
    note: str = ""
    asks: tuple[str, ...] = ()
    to_site: bool = False
    sheet_size: SheetSize = "letter"
    language: str = "en"

    def __post_init__(self) -> None:
        super().__post_init__()
        if not self.lines:
            raise SheetError("lines is empty; an order sheet has at least one line.")

    @property
    def title(self) -> str:
        return f"{'Draft of order' if self.is_draft else 'Order'} {self.number}"

    @property
    def title_block(self) -> tuple[TitleField, ...]:
        return (
            TitleField("Order", f"{self.number}{', draft' if self.is_draft else ''}"),
            TitleField("To", self.supplier.name),
            TitleField("Date", self.ordered_on),
            TitleField("Ordered by", self.prepared_by),
        )
