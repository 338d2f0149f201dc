"""Rows of fields for what a job has of its own in its chain of activities."""

from typing import Any

from django import forms

from quoting.platform.pages.entry_form import EntryForm, day, pick, text

KINDS = [("", "Work"), ("inspection", "Inspection"), ("hold", "Hold until a day")]
LINK_KINDS = [
    ("", "start after end"),
    ("SS", "start after start"),
    ("FF", "end after end"),
    ("SF", "end after start"),
]
Choices = list[tuple[str, str]]


class _Among(EntryForm):
    """A form with activities to choose from. One that is stored and no longer there stays to be seen and changed."""

    among_fields: tuple[str, ...] = ()
    idle: tuple[str, ...] = ()

    def __init__(self, *args: Any, among: Choices, **options: Any) -> None:
        super().__init__(*args, **options)
        for name in self.among_fields:
            stored = self.initial.get(name)
            lost = [(stored, f"{stored} (not on this job)")] if stored and stored not in dict(among) else []
            self.fields[name].choices = [("", "none"), *among, *lost]  # type: ignore[attr-defined]

    def is_filled(self) -> bool:
        return any(value for entry, value in self.entries().items() if entry not in self.idle)


class OwnActivityForm(_Among):
    among_fields = ("after", "before")
    idle = ("key", "kind")

    key = forms.CharField(widget=forms.HiddenInput(), max_length=60)
    name = text("What is done", longest=120)
    kind = pick("Kind", KINDS)
    duration_workdays = text("Working days", longest=20)
    crew_hours = text("Or crew hours", longest=20)
    crew = text("People", longest=20)
    after = pick("Comes after", [])
    before = pick("Comes before", [])
    not_before = day("Not before")
    shortest_workdays = text("Shortest, days", longest=20)
    longest_workdays = text("Longest, days", longest=20)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        if self.initial.get("kind") == "work":
            self.initial["kind"] = ""
        if self.initial.get("crew_hours") is not None:
            self.initial["crew_hours"] = f"{self.initial['crew_hours']:g}"


class LinkForm(_Among):
    among_fields = ("before", "after")
    idle = ("kind",)

    after = pick("Activity", [])
    kind = pick("Waits how", LINK_KINDS)
    before = pick("For which", [])
    lag_workdays = text("Then working days", longest=20)
    lag_elapsed_hours = text("Or hours by the clock", longest=20)
    name = text("What is waited for", longest=120)
    left_out = forms.BooleanField(label="No link between the two", required=False)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        if self.initial.get("kind") == "FS":
            self.initial["kind"] = ""
        for name in ("lag_workdays", "lag_elapsed_hours"):
            if self.initial.get(name) == 0:
                self.initial[name] = ""


class PromiseForm(EntryForm):
    """The first day on site and the day promised. What was not sent at all stays as it is."""

    start_on = day("First day on site")
    promised_on = day("Promised to be done by")

    def given(self) -> dict[str, Any]:
        sent = {name for name in self.fields if self.add_prefix(name) in self.data}
        return {name: self.cleaned_data.get(name) or None for name in self.fields if name in sent}
