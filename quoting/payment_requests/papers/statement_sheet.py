"""What a statement says, as finished text: every request and payment of a client, and what is open."""

from dataclasses import dataclass
from typing import ClassVar

from quoting.platform.papers.parts import Party, SheetSize, TitleField, need_sheet_size, need_text


@dataclass(frozen=True)
class StatementLine:
    """asked, paid: one of them stated. balance: what is open after it, by its day."""

    day: str
    what: str
    asked: str
    paid: str
    balance: str
    due: str = ""

    def __post_init__(self) -> None:
        need_text(self, "day", "what", "balance")


@dataclass(frozen=True)
class StatementJob:
    title: str
    lines: tuple[StatementLine, ...]
    open: str
    held: str = ""


@dataclass(frozen=True)
class StatementPaper:
    template: ClassVar[str] = "papers/statement.html"

    made_on: str
    firm: Party
    client: Party
    currency: str
    jobs: tuple[StatementJob, ...]
    open: str
    overdue: str
    how_to_pay: str = ""
    tax_number: str = ""
    sheet_size: SheetSize = "letter"
    language: str = "en"

    def __post_init__(self) -> None:
        need_text(self, "made_on", "currency", "open", "language")
        need_sheet_size(self.sheet_size)

    @property
    def title(self) -> str:
        return f"Statement of {self.made_on}: {self.client.name}"

    @property
    def title_block(self) -> tuple[TitleField, ...]:
        return TitleField("Client", self.client.name), TitleField("Statement of", self.made_on)
