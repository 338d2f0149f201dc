"""One line of the Hours screen: on what, how long, who; why it differs from the quote stands folded."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django import forms
from django.http import QueryDict

from catalog.core.ground.refusal import EntryError
from jobs.core.costs.hours import hours_words, read_hours
from jobs.core.costs.tags import TAGS, note_tag, tag_words
from jobs.hours.models import Worker
from jobs.hours.services.choice_of_work import JobOffered, step_words
from jobs.hours.services.entered_days import Group
from jobs.hours.services.entry_lines import HoursLine
from jobs.jobs.services.notes import note_numbers_of
from quoting.platform.pages.declared_fields import form_field
from quoting.platform.pages.entry_form import NOT_ONE, EntryForm, pick, text

ELSEWHERE, NO_STEP = "-", "On no step"
USUAL_MINUTES = 480


@dataclass(frozen=True)
class Offered:
    """What a line may be on, and whose hours: near are shown, others folded. says: of each work, planned to left."""

    jobs: Sequence[JobOffered]
    near: Sequence[Worker]
    others: Sequence[Worker]

    @property
    def works(self) -> list[tuple[str, list[tuple[str, str]]]]:
        pairs = [
            (job.job.title, [*((place_of(job.job.pk, key), name) for key, name in _steps(job)), _on_no_step(job)])
            for job in self.jobs
        ]
        return [*pairs, ("Other", [(ELSEWHERE, "Not on a job")])]

    @property
    def says(self) -> dict[str, str]:
        return {place_of(job.job.pk, step.hours.step): step_words(step) for job in self.jobs for step in job.steps}

    @property
    def tags(self) -> list[tuple[str, str]]:
        notes = sorted({number for job in self.jobs for number in note_numbers_of(job.job.pk)})
        return [*TAGS.items(), *((note_tag(note), tag_words(note_tag(note))) for note in notes)]


def _steps(offered: JobOffered) -> Iterable[tuple[str, str]]:
    """With the job in each: a phone shows the chosen one alone."""
    return ((step.hours.step, f"{step.name}, {offered.job.title}") for step in offered.steps if step.hours.step)


def _on_no_step(offered: JobOffered) -> tuple[str, str]:
    return place_of(offered.job.pk, ""), f"{NO_STEP}, {offered.job.title}"


def place_of(job: int | None, step: str) -> str:
    return ELSEWHERE if job is None else f"{job}|{step}"


class WorkSelect(forms.Select):
    """says: of each choice what is planned, spent and left, which stands under the one chosen."""

    says: dict[str, str] = {}

    def create_option(self, name: str, value: Any, *about: Any, **more: Any) -> dict[str, Any]:
        option: dict[str, Any] = super().create_option(name, value, *about, **more)
        if words := self.says.get(str(value)):
            option["attrs"]["data-says"] = words
        return option


class LineForm(EntryForm):
    where = forms.ChoiceField(label="Work", widget=WorkSelect, error_messages={"invalid_choice": NOT_ONE})
    hours = text("Hours each", longest=20)
    who = forms.MultipleChoiceField(
        label="Crew", widget=forms.CheckboxSelectMultiple, error_messages={"invalid_choice": NOT_ONE}
    )
    elsewhere = form_field(HoursLine, "elsewhere")
    tag = pick("Why", ())
    note = form_field(HoursLine, "note")

    stands_at = {"minutes": "hours", "worker": "who", "job": "where", "step": "where"}

    def __init__(self, data: QueryDict | None, place: int, offered: Offered, group: Group | None) -> None:
        super().__init__(data, _initial(group) if group else {}, prefix=f"line-{place}")
        self.offered, self.place = offered, place
        self.fields["where"].choices = [("", "Choose the job and step"), *offered.works]
        self.fields["where"].widget.says = offered.says
        self.fields["who"].choices = [(str(worker.pk), worker.name) for worker in (*offered.near, *offered.others)]
        self.fields["tag"].choices = offered.tags
        self.fields["hours"].widget.attrs |= {"inputmode": "decimal", "autocomplete": "off"}

    @property
    def crew(self) -> list[tuple[Any, bool]]:
        """Each tick, and whether it stands folded."""
        ticked, near = self._ticked(), {str(worker.pk) for worker in self.offered.near}
        boxes = list(self["who"])
        values = [box.data["value"] for box in boxes]
        return [(box, value in near or value in ticked) for box, value in zip(boxes, map(str, values), strict=True)]

    @property
    def shown(self) -> list[Any]:
        return [box for box, is_near in self.crew if is_near]

    @property
    def folded(self) -> list[Any]:
        return [box for box, is_near in self.crew if not is_near]

    def _ticked(self) -> set[str]:
        return {str(entry) for entry in self["who"].value() or ()}

    @property
    def standing(self) -> str:
        """Planned, spent and left of what is chosen."""
        return self.offered.says.get(str(self["where"].value() or ""), "")

    @property
    def is_open(self) -> bool:
        """The first line; of the others each is folded under `in_short` until it is wrong or was changed."""
        return self.place == 0 or bool(self.is_bound and (self.errors or self._ticked()))

    @property
    def in_short(self) -> str:
        """Hours, work and crew of a line filled in; empty for a free one."""
        names = ", ".join(box.choice_label for box, _ in self.crew if box.data["selected"])
        works = dict(work for _, group in self.offered.works for work in group)
        work = str(self["elsewhere"].value() or "") or works.get(str(self["where"].value() or ""), "")
        return f"{self['hours'].value()} h, {work}: {names}" if names else ""

    @property
    def differs(self) -> str:
        """What is said of it beside: what was done on no job, the tag in words, else that it is as quoted."""
        tag, elsewhere = str(self["tag"].value() or ""), str(self["elsewhere"].value() or "")
        words = elsewhere or dict(self.offered.tags).get(tag, TAGS[""])
        return f"{words}, {self['note'].value()}" if self["note"].value() else words

    @property
    def tells_more(self) -> bool:
        names = ("elsewhere", "tag", "note")
        return any(self[name].errors for name in names)

    def is_filled(self) -> bool:
        return bool(self.cleaned_data.get("who"))

    def lines(self, day: date | str) -> list[dict[str, Any]]:
        """As `enter_hours` takes them, one a worker. Raises EntryError."""
        given = self.cleaned_data
        job, _, step = given["where"].partition("|")
        if not given["where"]:
            raise EntryError("where", "choose the job and step, or that it is on no job")
        if not given["hours"].strip():
            raise EntryError("hours", "say how long each of them worked")
        if given["where"] != ELSEWHERE:
            keys = {str(offered.job.pk): offered.job.key for offered in self.offered.jobs}
            about = {"job": keys[job], "step": step, "tag": given["tag"], "note": given["note"]}
        else:
            about = {"elsewhere": given["elsewhere"], "note": given["note"]}
        minutes = read_hours(given["hours"])
        return [{"worker": int(who), "day": str(day), "minutes": minutes, **about} for who in given["who"]]


def _initial(group: Group) -> dict[str, Any]:
    return {
        "where": place_of(group.job, group.step),
        "hours": hours_words(group.minutes).removesuffix(" h") if group.minutes % 15 == 0 else _clock(group.minutes),
        "who": [str(worker) for worker in group.workers],
        "elsewhere": group.elsewhere,
        "tag": group.tag,
    }


def _clock(minutes: int) -> str:
    return f"{minutes // 60}:{minutes % 60:02}"
