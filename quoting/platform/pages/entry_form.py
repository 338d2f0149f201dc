"""Forms that keep what was typed and show what the core says of it. Nothing is judged here."""

from collections.abc import Callable, Iterable
from functools import cache
from typing import Any

from django import forms
from django.core.validators import MaxLengthValidator
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render

from catalog.core.ground.declared import Text, entries_of
from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.core.ground.refusal import Refused
from quoting.platform.pages.stored_values import Stored, plain

VERSION = "seen_version"
CHANGED_MEANWHILE = (
    "Not saved: what is marked below was changed after you opened this form. Your entries are still in it. "
    "Save again to overwrite what is stored."
)
# A reason that begins so continues the field's name: "Waste must be from 0 to 1.99".
GOES_ON = ("is ", "must ", "holds ")


class StoredForm(forms.BaseForm):
    """A form of what is stored; what somebody else saved since it was opened is told, not written over."""

    stored: Stored | None = None
    is_late = False

    def see(self, stored: Stored | None) -> None:
        self.stored = stored
        if stored is not None:
            self.fields[VERSION] = forms.CharField(required=False, widget=forms.HiddenInput, initial=stored.version())

    def full_clean(self) -> None:
        super().full_clean()
        if self.is_bound and self.stored is not None and not self.is_late:
            self._look_for_changes(self.stored)

    def _look_for_changes(self, stored: Stored) -> None:
        seen = self.data.get(self.add_prefix(VERSION), "")
        changed = [
            name for name in stored.changed_since(seen) if plain(self._typed(name)) != plain(stored.values[name])
        ]
        if not changed:
            return
        self.is_late = True
        # What is sent next was made in the knowledge of what is told here.
        self.data = self.data.copy()
        self.data[self.add_prefix(VERSION)] = stored.version()
        self.add_error(None, CHANGED_MEANWHILE)
        for name in changed:
            self.add_error(name if name in self.fields else None, self._told(stored, name, seen))

    def _typed(self, name: str) -> Any:
        return self.cleaned_data.get(name, self.data.get(self.add_prefix(name))) if name in self.fields else None

    def _told(self, stored: Stored, name: str, seen: str) -> str:
        value = plain(stored.values[name])
        choices = dict(getattr(self.fields.get(name), "choices", ()))
        words = f"“{choices.get(value, value)}”" if value else "nothing"
        return f"{stored.changed_by(name, seen)} saved {words} here since."

    def status(self) -> int:
        if self.is_bound and self.errors:
            return 409 if self.is_late else 422
        return 200


class EntryForm(StoredForm, forms.Form):
    """Fields named as in the document they fill; an empty one is left out of it.

    stored: for a form that changes what is there; it is shown when nothing else is said in `initial`.
    declares: the class its document is read as; its text is as long at most as that says. folds: fields that are folded
    away, by the label of their line.
    """

    declares: Any = None

    use_required_attribute = False
    # Path in the document -> field, where the two differ.
    stands_at: dict[str, str] = {}
    folds: dict[str, tuple[str, ...]] = {}
    is_blank = False

    def __init__(
        self,
        data: QueryDict | None = None,
        initial: dict[str, Any] | None = None,
        *,
        stored: Stored | None = None,
        **options: Any,
    ) -> None:
        shown = dict(stored.values) if stored is not None and initial is None else initial
        super().__init__(data, initial=shown, label_suffix="", **options)
        self.see(stored)
        longest = _longest(self.declares)
        for name, field in self.fields.items():
            field.required = False
            if name in longest and isinstance(field, forms.CharField):
                _shorten(field, longest[name])

    def get_initial_for_field(self, field: forms.Field, field_name: str) -> Any:
        value = super().get_initial_for_field(field, field_name)
        offered = getattr(field, "offered", None)
        return offered(value) if offered else value

    def shown_fields(self) -> list[forms.BoundField]:
        folded = {name for names in self.folds.values() for name in names}
        return [field for field in self if field.name not in folded]

    def folded_lines(self) -> list[tuple[str, list[forms.BoundField], bool]]:
        """Each line with its label and fields, and whether one of them is wrong."""
        lines = ((label, [self[name] for name in names]) for label, names in self.folds.items())
        return [(label, fields, any(field.errors for field in fields)) for label, fields in lines]

    def entries(self) -> dict[str, Any]:
        typed = ((name, value) for name, value in self.cleaned_data.items() if name != VERSION)
        return {name: value for name, value in typed if value not in ("", None, [])}

    def changes(self) -> dict[str, Any]:
        """Every entry of the form; one that was emptied is taken away."""
        document = self.entries()
        return {name: document.get(name) for name in self.base_fields}

    def is_filled(self) -> bool:
        """Whether anything was typed, so that an empty row of a list is not an item."""
        return bool(self.entries())

    def saves(self, save: Callable[[], object]) -> bool:
        """Whether it was sent and stored; what is refused is said at its fields."""
        if not self.is_valid():
            return False
        try:
            save()
        except DocumentError as error:
            self.complain(error)
            return False
        except Refused as refusal:
            self.add_error(None, str(refusal))
            return False
        return True

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

    def _sentence(self, name: str | None, complaint: DocumentProblem) -> str:
        label = str(self.fields[name].label or name) if name else ""
        return sentence(label or complaint.path, complaint)


@cache
def _longest(declared: Any) -> dict[str, int]:
    if declared is None:
        return {}
    return {entry.name: entry.kind.longest for entry in entries_of(declared) if isinstance(entry.kind, Text)}


def _shorten(field: forms.CharField, longest: int) -> None:
    field.max_length, field.widget.attrs["maxlength"] = longest, str(longest)
    long = (check for check in field.validators if not isinstance(check, MaxLengthValidator))
    field.validators = [MaxLengthValidator(longest), *long]


def sentence(label: str, complaint: DocumentProblem) -> str:
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


def saved_words(name: str, form: forms.BaseForm) -> str:
    """Names what a saved form changed: "Saved J-0007: crew and note.\""""
    labels = [str(form.fields[entry].label or entry) for entry in form.changed_data if not form[entry].is_hidden]
    if not labels:
        return f"Saved {name}: nothing was changed."
    sentences = [f"{label[:1].lower()}{label[1:]}" for label in labels]
    return f"Saved {name}: {' and '.join([*filter(None, [', '.join(sentences[:-1])]), sentences[-1]])}."


def entry_page(
    request: HttpRequest, form: EntryForm, *, template: str = "entries/entry.html", **context: Any
) -> HttpResponse:
    """One form on a page of its own: heading, says, button, back."""
    return render(request, template, {"form": form, **context}, status=form.status())
