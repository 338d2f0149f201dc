"""Standards from the record."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Any

from catalog.core.ground.declared import Figure, Of, View, Writing
from catalog.core.ground.plain_text import half_up, plain
from quoting.platform.api.declared import answer_shapes, request_shapes
from quoting.platform.api.parts import FIGURE, FLAG, given, or_none, thing
from quoting.record.models import LearntStandard
from quoting.record.services.accepting import AcceptedStandard
from quoting.record.services.leaving_out import NewLeftOut, NotLeftOut
from quoting.record.services.resting import open_quotes
from quoting.record.services.suggesting import Suggestion, suggestions

Standard = Annotated[str, "Its name, or `waste` and the code of a material."]


@dataclass(frozen=True)
class _ForTheEye(Figure):
    """To four places."""

    def write(self, value: Any, how: Writing) -> Any:
        return plain(half_up(value, 4))


ForTheEye = Annotated[Decimal, _ForTheEye()]


@dataclass(frozen=True)
class LeftOutWhy:
    """A closed job that does not teach a standard."""

    job: str
    reason: str


class JobLearntFrom(View):
    """What a closed job took, and what it would by the standard."""

    job: str
    closed_on: date
    by_standard: ForTheEye
    actual: ForTheEye


def _left_out(suggestion: Suggestion) -> list[LeftOutWhy]:
    return [LeftOutWhy(job.job, why) for job, why in suggestion.lesson.left_out]


class SuggestedStandard(View):
    """`error_was`, `error`: summed absolute errors of the standard, and of the suggestion in the back-test."""

    standard: Standard
    label: str
    unit: Annotated[str, "Of the jobs' figures."]
    was: Decimal
    value: Decimal
    typical: Annotated[Decimal, "The geometric mean of the jobs."]
    offered: Annotated[bool, Of("is_offered")]
    why_not: Annotated[str, Of("lesson.why_not")]
    error_was: Annotated[ForTheEye, Of("lesson.error_was")]
    error: Annotated[ForTheEye, Of("lesson.error")]
    jobs: Annotated[tuple[JobLearntFrom, ...], Of("lesson.used")]
    left_out: Annotated[tuple[LeftOutWhy, ...], Of(_left_out)]


class LearntStandardShown(View):
    """A standard the owner took from the record."""

    document_name = "learnt_standard"

    standard: Standard
    was: Decimal
    value: Decimal
    typical: Decimal
    error_was: Decimal
    error: Decimal
    jobs: Annotated[tuple[str, ...], Of("used")]
    left_out: Annotated[tuple[LeftOutWhy, ...], Of(lambda row: [LeftOutWhy(**entry) for entry in row.left_out])]
    accepted_by: Annotated[str, Of("accepted_by_name")]
    accepted_on: date


class RestsOnShown(View):
    """A figure of the record in a quotation, or the one before it."""

    document_name = "rests_on"

    standard: Annotated[str, Of("learnt.standard")]
    value: Decimal
    former: Annotated[bool, Of("is_former")]


class OpenQuote(View):
    """A quotation that rests on figures of the record, or on those before them."""

    job: Annotated[str, Of(lambda pair: pair[0].quote.job.key)]
    revision: Annotated[int, Of(lambda pair: pair[0].number)]
    rests_on: Annotated[tuple[RestsOnShown, ...], Of(lambda pair: pair[1])]


class Learnt(View):
    """What closed jobs say of each standard, what was taken, and the quotations that are out."""

    suggested: Annotated[tuple[SuggestedStandard, ...], Of(lambda _: suggestions())]
    accepted: Annotated[tuple[LearntStandardShown, ...], Of(lambda _: LearntStandard.objects.all())]
    open_quotes: Annotated[tuple[OpenQuote, ...], Of(lambda _: open_quotes())]


class LeftOutJob(View):
    """Who said so, and why."""

    standard: Standard
    job: Annotated[str, Of("job.key")]
    reason: str
    by: Annotated[str, Of("entered_by_name")]


SHAPES: dict[str, Any] = {
    **answer_shapes(Learnt, LeftOutJob),
    **request_shapes(AcceptedStandard, NewLeftOut, NotLeftOut),
    "TakenIn": thing("", was_out=FLAG),
    "LeftOver": thing(
        "By code of each board the job ordered; null where nobody counted.",
        left_over={"type": "object", "additionalProperties": or_none(FIGURE)},
    ),
    "NewLeftOver": given(
        "Sheets, by code of the board.",
        ("left_over",),
        left_over={"type": "object", "additionalProperties": or_none(FIGURE)},
    ),
}
