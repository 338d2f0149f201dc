"""What the paper of a month says, as finished text, on one page."""

from dataclasses import dataclass
from typing import ClassVar

from quoting.platform.papers.drawings import Drawing
from quoting.platform.papers.parts import FinishedText, Measure, OrEmpty, Party, SheetSize, TitleField


@dataclass(frozen=True)
class MonthLine(FinishedText):
    """made: of a job that goes on, as expected. why: the largest causes."""

    job: str
    state: str
    price: str
    quoted: OrEmpty
    made: OrEmpty
    why: OrEmpty


@dataclass(frozen=True)
class MonthPaper(FinishedText):
    """more: of jobs that stand on no line of their own. drawing: the bridge of the job that lost most."""

    template: ClassVar[str] = "papers/month.html"

    month: str
    state: str
    firm: Party
    currency: str
    sentences: tuple[str, ...]
    lines: tuple[MonthLine, ...]
    more: str = ""
    drawing: Drawing | None = None
    hours: tuple[Measure, ...] = ()
    learnt: tuple[str, ...] = ()
    figures: tuple[Measure, ...] = ()
    sheet_size: SheetSize = "letter"
    language: str = "en"

    @property
    def title(self) -> str:
        return f"The month, {self.month}"

    @property
    def title_block(self) -> tuple[TitleField, ...]:
        return TitleField("Month", self.month), TitleField("State", self.state)
