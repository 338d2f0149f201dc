"""The Hours screen as typed: lines of one day, and on Fridays what is left of the week's steps."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django import forms
from django.http import QueryDict

from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.core.ground.refusal import EntryError
from jobs.core.costs.hours import about_hours_words, read_hours
from jobs.hours.models.hours_left import MAX_PERCENT
from jobs.hours.pages.line_form import LineForm, Offered
from jobs.hours.services.entered_days import Group
from jobs.hours.services.job_hours import NamedStepHours
from jobs.jobs.models import Job
from quoting.platform.pages.entry_form import EntryForm, sentence, text
from quoting.platform.pages.entry_form import day as day_field

MAX_LINES = 20
FRIDAY = 4
LINE_RE = re.compile(r"line-[0-9]{1,2}-where")


class DayForm(EntryForm):
    day = day_field("Day")

    def asked(self, today: date) -> date:
        """The day shown; today while it is none."""
        try:
            return date.fromisoformat(str(self["day"].value() or ""))
        except ValueError:
            return today


@dataclass(frozen=True)
class StepOfWeek:
    job: Job
    step: NamedStepHours

    @property
    def name(self) -> str:
        return f"{self.job.pk}-{self.step.hours.step}"


class LeftForm(EntryForm):
    """Hours left of one step worked on this week; empty is not said."""

    hours = text("Hours left", longest=20)
    is_done = forms.BooleanField(label="Done")
    percent_done = text("Done, %", longest=4)

    def __init__(self, data: QueryDict | None, about: StepOfWeek) -> None:
        super().__init__(data, prefix=f"left-{about.name}")
        self.about = about
        self.fields["hours"].label = f"{about.step.name}, {about.job.title}"
        for name in ("hours", "percent_done"):
            self.fields[name].widget.attrs |= {"inputmode": "decimal", "autocomplete": "off"}
        if (left := about.step.hours.left_minutes) is not None:
            self.fields["hours"].help_text = f"So far {about_hours_words(left)}."

    def is_filled(self) -> bool:
        return any(self.cleaned_data.get(name) for name in ("hours", "is_done", "percent_done"))

    def line(self) -> dict[str, Any]:
        """Raises EntryError."""
        step, given = self.about.step.hours.step, self.cleaned_data
        typed, is_done = given["hours"].strip(), given["is_done"]
        share = percent_typed(given["percent_done"])
        if share and not typed and not is_done:
            raise EntryError("hours", "say how long it still takes as well")
        if typed in ("", "0"):
            return {"step": step, **share, **({"is_done": True} if is_done else {"minutes": 0})}
        return {"step": step, "minutes": read_hours_left(typed), "is_done": is_done, **share}


def percent_typed(typed: str) -> dict[str, Any]:
    """As a line of hours left holds it; empty is not said. Raises EntryError."""
    figure = typed.strip()[:10].removesuffix("%").strip()
    if not figure:
        return {}
    if not (figure.isascii() and figure.isdigit() and 1 <= int(figure) <= MAX_PERCENT):
        raise EntryError("percent_done", f'"{figure}" is not a share: 1 to {MAX_PERCENT} %, or say it is done')
    return {"percent_done": int(figure)}


def read_hours_left(typed: str) -> int:
    """More than a day's: whole days of a crew are left."""
    whole, mark, rest = typed.partition(".")
    if whole.isascii() and whole.isdigit() and len(whole) <= 5 and int(whole) >= 24:
        return int(whole) * 60 + (read_hours(f"0.{rest}") if mark and rest.strip("0") else 0)
    return read_hours(typed)


class HoursForm:
    """key: of this sending. told: what is about no entry. asked: what is to be answered before it is kept."""

    def __init__(
        self,
        data: QueryDict | None,
        key: str,
        offered: Offered,
        groups: Sequence[Group],
        day: date,
        week: Sequence[StepOfWeek],
    ) -> None:
        self.key, self.is_bound = key, data is not None
        self.head = DayForm(data, {"day": day.isoformat()})
        count = len(groups) + 1 if data is None else sum(1 for name in data if LINE_RE.fullmatch(name))
        rows = [*groups, *[None] * MAX_LINES][: min(count, MAX_LINES)]
        self.lines = [LineForm(data, place, offered, group) for place, group in enumerate(rows)]
        self.left = [LeftForm(data, entry) for entry in week]
        self.told: list[str] = []
        self.asked: list[tuple[str, str]] = []
        self._places: list[LineForm] = []

    def is_valid(self) -> bool:
        return not any([bool(form.errors) for form in (self.head, *self.lines, *self.left)])  # noqa: C419 - each is read

    def document(self, **answers: bool) -> dict[str, Any] | None:
        """None where no hours are entered. Raises DocumentError."""
        day = self.head.cleaned_data["day"]
        lines, problems = [], []
        self._places = []
        for form in (line for line in self.lines if line.is_filled()):
            try:
                mine = form.lines(day)
            except EntryError as error:
                form.add_error(error.field, _begun(error.reason))
                problems.append(DocumentProblem("", error.reason))
                continue
            lines += mine
            self._places += [form] * len(mine)
        if problems:
            raise DocumentError([])
        return {"request_key": self.key, "lines": lines, **answers} if lines else None

    def left_documents(self) -> list[tuple[Job, dict[str, Any]]]:
        """By job, what is left of its steps. Raises DocumentError."""
        documents: dict[Job, list[dict[str, Any]]] = {}
        for form in (entry for entry in self.left if entry.is_filled()):
            try:
                documents.setdefault(form.about.job, []).append(form.line())
            except EntryError as error:
                form.add_error("percent_done" if error.field == "percent_done" else "hours", _begun(error.reason))
                raise DocumentError([]) from error
        return [(job, {"request_key": f"{self.key}-{job.pk}", "steps": steps}) for job, steps in documents.items()]

    def complain(self, error: DocumentError) -> None:
        for problem in error.complaints:
            place, _, name = problem.path.removeprefix("lines[").partition("]")
            name = name.lstrip(".")
            if not problem.path.startswith("lines[") or not place.isdigit() or int(place) >= len(self._places):
                self.told.append(sentence("", problem))
            elif name == "day":
                self.head.add_error("day", sentence("Day", problem))
            else:
                self._places[int(place)].complain(DocumentError.at(name, problem.reason))


def _begun(reason: str) -> str:
    return f"{reason[:1].upper()}{reason[1:]}."
