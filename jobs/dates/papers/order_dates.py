"""The order dates as finished text."""

from dataclasses import dataclass
from typing import ClassVar

from quoting.platform.papers.drawings import Drawing
from quoting.platform.papers.parts import FinishedText, OrderDateRow, Party, SheetSize, TitleField


@dataclass(frozen=True)
class OrderDatesPaper(FinishedText):
    template: ClassVar[str] = "papers/order_dates.html"

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
    activities: Drawing | None = None

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
