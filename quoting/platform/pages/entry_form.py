"""Forms that keep what was typed and show what the core says of it. Nothing is judged here."""

from collections.abc import Iterable
from typing import Any

from django import forms
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render

from catalog.core.ground.document_reader import Complaint, DocumentError

# A reason that begins so continues the field's name: "Waste must lie from 0 to 1.99".
GOES_ON = ("is ", "must ", "holds ")


class EntryForm(forms.Form):
    """Fields named as in the document they fill; an empty one is left out of it."""

    use_required_attribute = False
    # Path in the document -> field, where the two differ.
    stands_at: dict[str, str] = {}

    def __init__(self, data: QueryDict | None = None, initial: dict[str, Any] | None = None, **options: Any) -> None:
        super().__init__(data, initial=initial, label_suffix="", **options)
        for field in self.fields.values():
            field.required = False

    def entries(self) -> dict[str, Any]:
        return {name: value for name, value in self.cleaned_data.items() if value not in ("", None, [])}

    def is_filled(self) -> bool:
        """Whether anything was typed, so that an empty row of a list is no item."""
        return bool(self.entries())

    def complain(self, error: DocumentError) -> None:
        for complaint in error.complaints:
            name = self._field_at(complaint.path)
            self.add_error(name, self._sentence(name, complaint))

    def _field_at(self, path: str) -> str | None:
        head = path.partition(".")[0].partition("[")[0]
        for known in (path, head):
            name = self.stands_at.get(known, known)
            if name in self.fields:
                return name
        return None

    def _sentence(self, name: str | None, complaint: Complaint) -> str:
        label = str(self.fields[name].label or name) if name else ""
        return sentence(label or complaint.path, complaint)

    def status(self) -> int:
        return 422 if self.is_bound and self.errors else 200


def sentence(label: str, complaint: Complaint) -> str:
    """A complaint for a person: the field by its label, not by its place in a document."""
    leaf = complaint.path.rpartition(".")[2]
    reason = complaint.reason.removeprefix(f"{leaf}: ").removeprefix(f"{leaf} ").rstrip(".")
    if not label:
        return f"{reason[:1].upper()}{reason[1:]}."
    return f"{label} {reason}." if reason.startswith(GOES_ON) else f"{label}: {reason}."


def text(label: str, hint: str = "", *, longest: int = 2000, rows: int = 0) -> forms.CharField:
    widget = forms.Textarea(attrs={"rows": rows}) if rows else forms.TextInput()
    return forms.CharField(label=label, help_text=hint, max_length=longest, widget=widget)


def day(label: str, hint: str = "") -> forms.CharField:
    # A date box sends 2027-01-25; without one the same is typed. The core reads it either way.
    widget = forms.DateInput(attrs={"type": "date"})
    return forms.CharField(label=label, help_text=hint, max_length=40, widget=widget)


def pick(label: str, among: Iterable[tuple[str, str]], hint: str = "", *, nothing: str = "") -> forms.ChoiceField:
    choices = [*([("", nothing)] if nothing else []), *among]
    return forms.ChoiceField(label=label, help_text=hint, choices=choices, error_messages={"invalid_choice": NOT_ONE})


NOT_ONE = "%(value)s is not one of those offered; choose one from the list."


def entry_page(request: HttpRequest, form: EntryForm, **context: Any) -> HttpResponse:
    """One form on a page of its own: heading, says, button, back."""
    return render(request, "entries/entry.html", {"form": form, **context}, status=form.status())
