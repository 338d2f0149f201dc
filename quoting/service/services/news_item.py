"""One thing others did since somebody was here."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from quoting.platform.formatting import amount_words

MOST = 50


@dataclass(frozen=True)
class News:
    """at: the moment, a day where no more is known. who, did: "Marta Linden" "accepted Reception screen". bad: of
    it, in red. amount: money. is_answer: what the client answered, which goes before all else. place: of the page."""

    at: datetime | date
    who: str
    did: str
    place: tuple[str, ...]
    bad: str = ""
    amount: Decimal | None = None
    is_answer: bool = False

    @property
    def moment(self) -> datetime | None:
        return self.at if isinstance(self.at, datetime) else None

    @property
    def sentence(self) -> str:
        message = f"{self.who} {self.did}"
        return (
            f"{message}{f', {self.bad}' if self.bad else ''}{f', {amount_words(self.amount)}' if self.amount else ''}"
        )
