"""What a statement says, as finished text: every request and payment of a client, and what is open."""

from dataclasses import dataclass
from typing import ClassVar

from quoting.platform.papers.parts import FinishedText, OrEmpty, Party, SheetSize, TitleField


@dataclass(frozen=True)
class StatementLine(FinishedText):
    """asked, paid: one of them stated. balance: what is open after it, by its day."""

    day: str
    what: str
    asked: OrEmpty
    paid: OrEmpty
    balance: str
    due: str = ""


@dataclass(frozen=True)
class StatementJob:
    title: str
    lines: tuple[StatementLine, ...]
    open: str
    held: str = ""


@dataclass(frozen=True)
class StatementPaper(FinishedText):
    template: ClassVar[str] = "papers/statement.html"

    made_on: str
    firm: Party
    client: Party
    currency: str
    jobs: tuple[StatementJob, ...]
    open: str
    overdue: OrEmpty
    how_to_pay: str = ""
    tax_number: str = ""
    sheet_size: SheetSize = "letter"
    language: str = "en"

    @property
    def title(self) -> str:
        return f"Statement of {self.made_on}: {self.client.name}"

    @property
    def title_block(self) -> tuple[TitleField, ...]:
        return TitleField("Client", self.client.name), TitleField("Statement of", self.made_on)
