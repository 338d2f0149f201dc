"""Form fields of what is declared: label, bounds and choices stand on the dataclass field, not in the form again."""

from collections.abc import Mapping
from typing import Any

from django import forms

from catalog.core.ground.declared import Choice, Day, Email, Flag, Items, Text, entry_of
from quoting.platform.pages.document_fields import LinesField, ShareField
from quoting.platform.pages.entry_form import EntryForm, day, pick, text


def form_of(
    declared: Any,
    *names: str,
    words: Mapping[str, dict[Any, str]] | None = None,
    base: type[EntryForm] = EntryForm,
) -> Any:
    """A form with the fields of declared entries; what a page asks besides stands in the class made of it.

    words: of the choices of an entry, by its name.
    """
    fields = {name: form_field(declared, name, words=(words or {}).get(name)) for name in names}
    return type(base)("FormOfDeclared", (base,), fields)


def picked(declared: Any, name: str, words: Mapping[Any, str]) -> forms.ChoiceField:
    """A choice of a declared entry in words, in their order; nothing else is offered."""
    entry = entry_of(declared, name)
    return pick(entry.label, words.items(), entry.options.hint)


def form_field(declared: Any, name: str, *, words: dict[Any, str] | None = None) -> forms.Field:
    """The field of a declared entry. words: of its choices, where the words of the document are not those of a page.

    The core judges what is typed: figures and lengths are text here, as people type them.
    """
    entry = entry_of(declared, name)
    if isinstance(entry.kind, Choice):
        labels = words or dict(entry.options.words)
        among = [(str(value), labels.get(value, str(value))) for value in entry.kind.among]
        nothing = "" if entry.needed or entry.options.absent else "Not said"
        return pick(entry.label, among, entry.options.hint, nothing=nothing)
    if isinstance(entry.kind, Items) and isinstance(entry.kind.each, Choice):
        among = [(str(value), (words or {}).get(value, str(value))) for value in entry.kind.each.among]
        ticks = forms.CheckboxSelectMultiple
        return forms.MultipleChoiceField(label=entry.label, help_text=entry.options.hint, choices=among, widget=ticks)
    if isinstance(entry.kind, Flag):
        return forms.BooleanField(label=entry.label, help_text=entry.options.hint)
    if isinstance(entry.kind, Day):
        return day(entry.label, entry.options.hint)
    if entry.options.in_percent:
        return ShareField(label=entry.label, help_text=entry.options.hint, max_length=20)
    if isinstance(entry.kind, Items) and isinstance(entry.kind.each, Text):
        widget = forms.Textarea(attrs={"rows": entry.options.rows or 3})
        return LinesField(label=entry.label, help_text=entry.options.hint, max_length=20_000, widget=widget)
    longest = entry.kind.longest if isinstance(entry.kind, Text) else 254 if isinstance(entry.kind, Email) else 40
    return text(entry.label, entry.options.hint, longest=longest, rows=entry.options.rows)
