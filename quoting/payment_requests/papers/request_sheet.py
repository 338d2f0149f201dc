"""What a payment request says, as finished text; what it states, compare HMRC VATREC5010, local law first."""

from dataclasses import dataclass
from typing import ClassVar

from quoting.platform.papers.parts import (
    FinishedText,
    Measure,
    OrEmpty,
    Party,
    SheetError,
    SheetSize,
    TitleField,
)


@dataclass(frozen=True)
class RequestLine(FinishedText):
    """A sum in its parts; what is taken off has a minus."""

    what: str
    price: str
    tax: str
    total: str
    detail: str = ""


@dataclass(frozen=True)
class RequestPaper(FinishedText):
    """credits: the number of the request this takes back, else empty; reason: why."""

    template: ClassVar[str] = "papers/payment_request.html"

    number: str
    what: str
    issued_on: str
    event_on: str
    due: str
    quote_number: str
    job_title: str
    firm: Party
    client: Party
    currency: str
    lines: tuple[RequestLine, ...]
    sums: RequestLine
    to_pay: str
    tax_words: str
    how_to_pay: OrEmpty
    contract: tuple[Measure, ...]
    tax_number: str = ""
    credits: str = ""
    reason: str = ""
    site_lines: tuple[str, ...] = ()
    sheet_size: SheetSize = "letter"
    language: str = "en"

    def __post_init__(self) -> None:
        super().__post_init__()
        if not self.lines:
            raise SheetError("lines is empty; a request asks for something.")

    @property
    def name(self) -> str:
        return f"Credit {self.number}" if self.credits else f"Payment request {self.number}"

    @property
    def title(self) -> str:
        return f"{self.name}: {self.what}, {self.job_title}"

    @property
    def title_block(self) -> tuple[TitleField, ...]:
        return (
            TitleField("Job", self.job_title),
            TitleField("Quotation", self.quote_number),
            TitleField("Credit" if self.credits else "Request", self.number),
            TitleField("Date", self.issued_on),
        )
