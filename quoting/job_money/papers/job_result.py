"""What the result of a job says, as finished text: one page."""

from dataclasses import dataclass
from typing import ClassVar

from quoting.platform.papers.drawings import Drawing
from quoting.platform.papers.parts import (
    FinishedText,
    Measure,
    OrEmpty,
    Party,
    SheetSize,
    TitleField,
)


@dataclass(frozen=True)
class ResultCause(FinishedText):
    name: str
    points: str
    amount: str
    says: OrEmpty


@dataclass(frozen=True)
class ResultStep(FinishedText):
    """Hours of a step: agreed, worked, in the end, and the difference in a hundred."""

    name: str
    agreed: str
    worked: str
    in_the_end: str
    difference: OrEmpty


@dataclass(frozen=True)
class JobResultPaper(FinishedText):
    template: ClassVar[str] = "papers/job_result.html"

    job_title: str
    client_name: str
    as_of: str
    prepared_by: str
    firm: Party
    currency: str
    sentence: str
    causes: tuple[ResultCause, ...]
    steps: tuple[ResultStep, ...]
    figures: tuple[Measure, ...]
    learnt: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    drawing: Drawing | None = None
    sheet_size: SheetSize = "letter"
    language: str = "en"

    @property
    def title(self) -> str:
        return f"Job result of {self.as_of}: {self.job_title}"

    @property
    def title_block(self) -> tuple[TitleField, ...]:
        return (
            TitleField("Job", self.job_title),
            TitleField("Client", self.client_name),
            TitleField("Paper", "Job result"),
            TitleField("As of", self.as_of),
        )
