"""Shapes of the owner's month."""

from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Any, NamedTuple

from catalog.core.ground.declared import As, Exact, Moment, Month, Of, View, Writing, itself
from quoting.core.money.month_figures import LaterNews
from quoting.month.models import ClosedMonth
from quoting.month.models.closed_months import MAX_SENTENCE
from quoting.month.services.known_now import JobKnownNow
from quoting.month.services.month_shown import MonthFigures
from quoting.month.services.overhead import NewOverhead
from quoting.platform.api.declared import EnteredAndVoided, answer_shapes, request_shapes
from quoting.platform.api.parts import NEEDED_TEXT, given

Money = Annotated[Decimal, Exact()]


class MonthHead(NamedTuple):
    month: date
    closed: ClosedMonth | None
    known_now: list[JobKnownNow]


class JobKnownNowShown(View):
    """A job of which something came since the close."""

    document_name = "job_known_now"

    job: Annotated[str, Of("now.key")]
    to_date: Annotated[Money, Of("now.to_date")]
    cost: Annotated[Money, Of("now.cost")]
    contract: Annotated[Money, Of("now.contract")]
    rows: tuple[LaterNews, ...]


class AsHeld(Moment):
    """Written by whoever answers."""

    def write(self, value: Any, how: Writing) -> Any:
        return value


class MonthClosed(View):
    """Who closed it, and the mark of what was kept."""

    at: Annotated[datetime, AsHeld(), Of("closed_at")]
    by: Annotated[str, Of("closed_by_name")]
    sha256: Annotated[str, Of("snapshot_sha256")]


class MonthHeadShown(View):
    month: Annotated[date, Month()]
    closed: MonthClosed | None
    known_now: tuple[JobKnownNowShown, ...]


class MonthShown(MonthHeadShown):
    """`until`: the last day that counts. `later`: what counts in it for earlier, closed months."""

    document_name = "month"

    figures: Annotated[MonthFigures, As(spread=True)]


class MonthSentenceShown(View):
    """Empty while nothing is said."""

    document_name = "month_sentence"

    text: str
    by: Annotated[str, Of("entered_by_name")]


class OverheadActualShown(View):
    """`month`: the month it counts in."""

    document_name = "overhead_actual"

    id: int
    what: str
    amount: Money
    day: date
    month: Annotated[date, Month(), Of("posted_month")]
    bill: str
    entered: Annotated[EnteredAndVoided, As(spread=True), Of(itself)]


class OverheadsShown(View):
    """The latest first."""

    document_name = "overheads"

    overhead: Annotated[tuple[OverheadActualShown, ...], Of(itself)]


SHAPES: dict[str, Any] = {
    **answer_shapes(MonthShown, MonthSentenceShown, OverheadsShown),
    **request_shapes(NewOverhead),
    "NewMonthSentence": given("", ("text",), text={**NEEDED_TEXT, "maxLength": MAX_SENTENCE}),
}
