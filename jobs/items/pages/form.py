"""The items of a job beside its walls, as rows of fields and as a job file has them."""

from typing import Any

from django import forms
from django.http import QueryDict

from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import DocumentError
from catalog.models import Material
from jobs.core.schedule.job_spec import JobSpec
from jobs.core.takeoff.job_items import RULES
from quoting.platform.pages.entry_form import EntryForm, day, pick, sentence, text
from quoting.platform.pages.entry_rows import EntryRows

Choices = list[tuple[str, str]]


class JobItemForm(EntryForm):
    key = forms.CharField(widget=forms.HiddenInput(), max_length=60)
    material = pick("Item", [])
    quantity = text("How many", longest=20)
    rule = pick("Counted", [("", RULES["count"]), *((key, words) for key, words in RULES.items() if key != "count")])
    activity = pick("For the activity", [])
    need_by = day("Or on site by")

    def __init__(self, *args: Any, materials: Choices, activities: Choices, **options: Any) -> None:
        super().__init__(*args, **options)
        if self.initial.get("rule") == "count":
            self.initial["rule"] = ""
        self._offer("material", materials)
        self._offer("activity", activities)

    def _offer(self, name: str, among: Choices) -> None:
        stored = self.initial.get(name)
        lost = [(stored, str(stored))] if stored and stored not in dict(among) else []
        self.fields[name].choices = [("", "none"), *among, *lost]  # type: ignore[attr-defined]

    def is_filled(self) -> bool:
        return any(value for entry, value in self.entries().items() if entry not in ("key", "rule"))


class JobItemsForm:
    """Filled from what was sent, or else from the job as stored."""

    def __init__(self, data: QueryDict | None, stored: JobSpec, activities: Choices, *, more: bool = False) -> None:
        written = write(stored)["job"].get("items", [])
        options = {"materials": _materials(stored), "activities": activities}
        self.rows = EntryRows(JobItemForm, "items", data, written, spare=1, more=more, options=options)
        self.others = list[str]()

    def document(self) -> dict[str, Any]:
        return {"job": {"items": self.rows.entries()}}

    def complain(self, error: DocumentError) -> None:
        for complaint in error.complaints:
            inner = type(complaint)(complaint.path.removeprefix("job."), complaint.reason)
            if not self.rows.takes(inner):
                self.others.append(sentence(inner.path, inner))


def _materials(stored: JobSpec) -> Choices:
    """Of the firm's own kinds first: those are what no wall asks for."""
    taken = {item.material for item in stored.items}
    rows = Material.objects.order_by("name").only("code", "name", "kind", "active")
    offered = [row for row in rows if row.active or row.code in taken]
    return [(row.code, row.name) for row in sorted(offered, key=lambda row: row.kind != "own")]
