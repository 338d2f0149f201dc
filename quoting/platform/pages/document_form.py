"""A form whose fields are named by their place in the document it fills, such as policy-target_margin."""

from collections.abc import Mapping
from typing import Any

from django import forms
from django.http import QueryDict

from catalog.core.ground.declared import entry_of
from quoting.platform.pages.declared_fields import form_field
from quoting.platform.pages.entry_form import EntryForm

Document = dict[str, Any]


def fields_of(declared: Any, *names: str, at: str = "") -> dict[str, forms.Field]:
    """Of declared entries, by their places; at: of the object that holds them."""
    return {f"{at}{entry_of(declared, name).name}": form_field(declared, name) for name in names}


def document_form(*parts: Mapping[str, forms.Field]) -> Any:
    """A form with these fields, by their places."""
    return type(DocumentForm)("FormOfDocument", (DocumentForm,), {name: of[name] for of in parts for name in of})


class DocumentForm(EntryForm):
    """What is emptied is left out; of an object that holds nothing but ticks, all."""

    def __init__(self, data: QueryDict | None, document: Mapping[str, Any], **options: Any) -> None:
        super().__init__(data, {name: _at(document, name) for name in self.base_fields}, **options)

    def document(self) -> Document:
        result: Document = {}
        for name, entry in self.entries().items():
            _put(result, name.split("-"), entry)
        return {name: entry for name, entry in result.items() if not _only_ticks(entry)}

    def _field_at(self, path: str) -> str | None:
        """The field itself, else the first of the object it is of."""
        place = path.partition("[")[0].replace(".", "-")
        while place:
            found = next((name for name in self.fields if name == place or name.startswith(f"{place}-")), None)
            if found:
                return found
            place = place.rpartition("-")[0]
        return None


def _at(document: Any, name: str) -> Any:
    for part in name.split("-"):
        document = document.get(part) if isinstance(document, Mapping) else None
    return document


def _put(document: Document, path: list[str], entry: Any) -> None:
    for part in path[:-1]:
        document = document.setdefault(part, {})
    document[path[-1]] = entry


def _only_ticks(entry: Any) -> bool:
    return isinstance(entry, dict) and all(isinstance(value, bool) for value in entry.values())
