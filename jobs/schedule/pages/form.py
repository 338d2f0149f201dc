"""A job's site closures, changes to its activities and agreed dates, as rows of fields and as a job file has them."""

from typing import Any

from django import forms
from django.http import QueryDict

from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import DocumentError
from catalog.pages.closures import ClosureForm
from jobs.core.schedule.job_spec import JobSpec
from jobs.schedule.pages.activity_forms import LinkForm, OwnActivityForm, PromiseForm
from quoting.platform.pages.entry_form import EntryForm, day, pick, sentence, text
from quoting.platform.pages.entry_rows import MAX_ROWS, EntryRows

Document = dict[str, Any]


class NamedRow(EntryForm):
    """A row about something known, which `names` holds; it says something when any other field is filled."""

    names: str

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields[self.names] = forms.CharField(widget=forms.HiddenInput(), required=False, max_length=200)

    @property
    def name(self) -> str:
        return str(self[self.names].value() or "")

    def is_filled(self) -> bool:
        return any(value for entry, value in self.entries().items() if entry != self.names)

    def _field_at(self, path: str) -> str | None:
        # An error of the hidden field is told for the row, or nobody would see it.
        field = super()._field_at(path)
        return None if field == self.names else field


class ActivityForm(NamedRow):
    names = "key"
    duration_workdays = text("Set working days", longest=20)
    not_before = day("Not before")
    left_out = forms.BooleanField(label="Leave out", required=False)
    crew = text("People", longest=20)
    shortest_workdays = text("Shortest, days", longest=20)
    longest_workdays = text("Longest, days", longest=20)


class ItemForm(NamedRow):
    names = "material"
    need_by = day("Need by")
    cushion_workdays = text("Cushion days", longest=20)
    sign_off_workdays = text("Sign-off days", longest=20)
    supplier = pick("From", [])

    def __init__(self, *args: Any, sellers: dict[str, list[tuple[str, str]]], **options: Any) -> None:
        super().__init__(*args, **options)
        among, stored = sellers.get(self.name, []), self.initial.get("supplier") or ""
        if stored and stored not in dict(among):
            among = [*among, (stored, stored)]
        if not among and not self.is_bound:
            del self.fields["supplier"]
        else:
            self.fields["supplier"].choices = [("", "the preferred"), *among]  # type: ignore[attr-defined]


class DatesForm:
    """Filled from what was sent, or else from the job as stored with a row for each of the names given.

    activities: keys and names of the chain as it is. sellers: by material, the suppliers it may be had from beside the
    preferred one.
    """

    def __init__(
        self,
        data: QueryDict | None,
        stored: JobSpec,
        *,
        activities: list[tuple[str, str]],
        own: list[tuple[str, str]],
        items: list[str],
        sellers: dict[str, list[tuple[str, str]]] | None = None,
        more: str = "",
    ) -> None:
        self.is_bound, self.others = data is not None, list[str]()
        written = write(stored)["job"]
        keys = [key for key, _ in activities]
        among = {"among": [*activities, *own]}

        def rows(form: type[EntryForm], name: str, offered: list[Document], spare: int, **options: Any) -> EntryRows:
            return EntryRows(form, name, data, offered, spare=spare, more=more == name, options=options)

        self.promise = PromiseForm(data, initial=written)
        self.closed = rows(ClosureForm, "closed", written["closed"], 1)
        self.activities = rows(ActivityForm, "activities", _one_for_each(keys, "key", written["activities"]), 0)
        self.own = rows(OwnActivityForm, "own_activities", written["own_activities"], 0, **among)
        self.links = rows(LinkForm, "links", written["links"], 0, **among)
        offered = _one_for_each(items, "material", written["dates"])
        self.dates = rows(ItemForm, "dates", offered, 0, sellers=sellers or {})
        self.rows = {
            "closed": self.closed,
            "activities": self.activities,
            "own_activities": self.own,
            "links": self.links,
            "dates": self.dates,
        }

    @staticmethod
    def can_show(stored: JobSpec) -> bool:
        """Rows beyond those a page holds would be lost when it is saved."""
        lists = (stored.closures, stored.activities, stored.dates, stored.own_activities, stored.links)
        return max(map(len, lists)) < MAX_ROWS // 2

    def is_valid(self) -> bool:
        # Every list is asked, so that every fault is shown.
        answers = [self.promise.is_valid(), *(rows.is_valid() for rows in self.rows.values())]
        return all(answers)

    def document(self) -> Document:
        """Lists nobody sent, as by a page of before they were, stay as they are."""
        sent = {name: rows.entries() for name, rows in self.rows.items() if rows.forms or name not in OPTIONAL}
        return {"job": {**self.promise.given(), **sent}}

    def complain(self, error: DocumentError) -> None:
        for complaint in error.complaints:
            inner = type(complaint)(complaint.path.removeprefix("job."), complaint.reason)
            if inner.path in self.promise.fields:
                self.promise.complain(DocumentError([inner]))
            elif not any(rows.takes(inner) for rows in self.rows.values()):
                self.others.append(sentence(inner.path, inner))

    def status(self) -> int:
        wrong = bool(self.others or self.promise.errors) or any(rows.has_errors for rows in self.rows.values())
        return 422 if self.is_bound and wrong else 200


OPTIONAL = ("own_activities", "links")


def _one_for_each(names: list[str], key: str, stored: list[Document]) -> list[Document]:
    known = {entry[key]: entry for entry in stored}
    return [known.get(name, {key: name}) for name in dict.fromkeys([*names, *known])]
