"""What keeps a form from being saved, said first: each wrong field by a link to it, the first of them in focus."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.forms import BaseForm

from quoting.platform.pages.entry_rows import EntryRows


@dataclass(frozen=True)
class WrongField:
    """anchor: id of the field or of its rows; empty where the sentence is about no field."""

    sentence: str
    anchor: str = ""


@dataclass(frozen=True)
class NotSaved:
    """lead: what did not happen."""

    wrong: tuple[WrongField, ...]
    lead: str = "Not saved"

    @property
    def heading(self) -> str:
        count = len({field.anchor for field in self.wrong if field.anchor})
        return f"{self.lead}: {count} field{'' if count == 1 else 's'}" if count else self.lead

    @property
    def first(self) -> str:
        return next((field.anchor for field in self.wrong if field.anchor), "")


def wrong_of_form(form: BaseForm, about: str = "") -> list[WrongField]:
    """In the order of its fields; what no field shown is about is linked to the first of them. about: the row."""
    wrong = []
    for name in ("__all__", *form.fields):
        label = str(form.fields[name].label or "") if name in form.fields else ""
        is_shown = name in form.fields and not form[name].is_hidden
        anchor = form[name].auto_id if is_shown else _first_shown(form)
        wrong += [WrongField(_with_label(error, about, label), anchor) for error in form.errors.get(name, ())]
    return wrong


def wrong_of_rows(rows: EntryRows, label: str = "") -> list[WrongField]:
    fields = [WrongField(fault, f"rows-{rows.name}") for fault in rows.faults]
    for place, form in enumerate(rows.forms, start=1):
        fields += wrong_of_form(form, f"{label or rows.label} {place}")
    return fields


def summary_of(parts: Iterable[Any], lead: str = "Not saved") -> NotSaved | None:
    """Of the forms, rows of forms and sentences of a page, in its order; None where nothing is wrong."""
    summary, forms = list[WrongField](), list[BaseForm]()
    for part in parts:
        if isinstance(part, EntryRows):
            forms += part.forms
            summary += wrong_of_rows(part) if part.is_bound else []
        elif isinstance(part, BaseForm):
            forms.append(part)
            summary += wrong_of_form(part) if part.is_bound else []
        elif isinstance(part, str):
            summary += [WrongField(part)] if part else []
        elif part is not None:
            inner = summary_of(part)
            summary += inner.wrong if inner else ()
            forms += [entry for entry in part if isinstance(entry, BaseForm)]
    return in_focus(forms, NotSaved(tuple(summary), lead)) if summary else None


def in_focus(forms: Iterable[BaseForm], summary: NotSaved) -> NotSaved:
    """The first wrong field takes the focus when the page opens."""
    fields: Iterable[Any] = (field for form in forms for field in form if field.auto_id == summary.first)
    for field in fields:
        field.field.widget.attrs["autofocus"] = True
    return summary


def _first_shown(form: BaseForm) -> str:
    return next((field.auto_id for field in form.visible_fields()), "")


def _with_label(message: str, about: str, label: str) -> str:
    text = message if not label or message.startswith(label) else f"{label}: {message}"
    return f"{about}: {text}" if about else text
