"""One part of a wall's form, or a row of it: it holds what is typed, and the core judges that.

An entry is called as its value is in the wall's document, so that a complaint of the core finds its field.
"""

import re
from collections.abc import Iterable, Mapping
from typing import Any, ClassVar

from django import forms
from django.forms.utils import ErrorDict

from catalog.core.ground.declared import Document
from catalog.core.ground.units import System
from jobs.walls.pages.form.marks import MARK, options_of
from jobs.walls.pages.form.unit_text import typed
from quoting.platform.pages.entry_form import EntryForm, pick

Typed = dict[str, str]
"""What stands in entries, by their names."""
Options = tuple[tuple[str, str], ...]
LONGEST = 2_000
ANYTHING = "*"
_LENGTH = re.compile(r"-?\d[\d.e+-]* mm")


class Offering(forms.Select):
    """A value that is not offered stays to be seen: what was typed is never changed in silence."""

    def optgroups(self, name: str, value: list[str], attrs: dict[str, Any] | None = None) -> list[Any]:
        groups = super().optgroups(name, value, attrs)
        shown = value[0] if value else ""
        if shown not in {str(option["value"]) for _, options, _ in groups for option in options}:
            groups.insert(0, (None, [self.create_option(name, shown, shown or "choose one", True, 0)], 0))
        return groups


class PartForm(EntryForm):
    """starts_as: what a new row says. needed: entries whose absence the core names. when: the entry beside, and its
    words with which an entry is shown. marked: entries that are dimensions, each with how it is known. materials: the
    kind of material an entry names. wide: entries over the whole width. plain: text, whatever it looks like."""

    starts_as: ClassVar[Typed] = {}
    needed: ClassVar[tuple[str, ...]] = ()
    when: ClassVar[Mapping[str, tuple[str, tuple[str, ...]]]] = {}
    marked: ClassVar[tuple[str, ...]] = ()
    materials: ClassVar[Mapping[str, str]] = {}
    wide: ClassVar[tuple[str, ...]] = ()
    plain: ClassVar[tuple[str, ...]] = ("name",)

    def __init__(
        self,
        data: Typed | None = None,
        initial: Typed | None = None,
        *,
        offered: Mapping[str, Options],
        pieces: int = 1,
        **options: Any,
    ) -> None:
        super().__init__(data, initial or self.starts_as, auto_id="%s", **options)  # type: ignore[arg-type]
        self.offered, self.pieces = offered, pieces
        for name in self.marked:
            self.fields[name + MARK] = pick(f"{self.fields[name].label} is", options_of(self.typed(name + MARK)))
        for name, kind in self.materials.items():
            self.fields[name].choices += offered.get(kind, ())  # type: ignore[attr-defined]
        for name, field in self.fields.items():
            self._dress(name, field)

    def _dress(self, name: str, field: Any) -> None:
        field.required = False
        if isinstance(field, forms.ChoiceField):
            field.widget = Offering(field.widget.attrs, field.choices)
        asked, words = self.when.get(name.removesuffix(MARK), ("", ()))
        field.asked, field.words, field.off = asked, " ".join(words), not self.is_shown(name)
        field.is_wide, field.is_tick = name in self.wide, isinstance(field, forms.BooleanField)
        entry = self.add_prefix(name)
        field.widget.attrs["aria-describedby"] = f"{entry}_error {entry}_hint" if field.help_text else f"{entry}_error"
        if field.off:
            field.widget.attrs["disabled"] = True
        if field.is_tick:
            field.widget.attrs["value"] = "yes"
        elif not isinstance(field, forms.ChoiceField):
            field.widget.attrs |= {"autocomplete": "off", "maxlength": str(LONGEST)}

    def full_clean(self) -> None:
        self._errors = ErrorDict()
        self.cleaned_data = {name: self.typed(name) for name in self.fields}

    def typed(self, name: str) -> str:
        stands = self.data.get(self.add_prefix(name), "") if self.is_bound else self.initial.get(name, "")
        return str(stands)

    def is_shown(self, name: str) -> bool:
        asked, words = self.when.get(name.removesuffix(MARK), ("", ()))
        chosen = self.typed(asked) if asked else ""
        return not asked or (bool(chosen) if ANYTHING in words else chosen in words)

    def entered(self) -> Typed:
        """What is shown and says something, and what is needed."""
        texts = {name: self.typed(name) for name in self.base_fields if self.is_shown(name)}
        return {name: text for name, text in texts.items() if text or name in self.needed}

    def document(self) -> Document:
        return self.entered()

    def is_typed(self) -> bool:
        return any(self.typed(name) for name in self.base_fields)

    @classmethod
    def texts_of(cls, written: Document, system: System) -> Typed:
        """As a person would type what a document has."""
        return {name: as_typed(name, written.get(name), system, cls.plain) for name in cls.base_fields}

    def figures(self) -> list[Any]:
        """The fields shown, without how each is known."""
        return [self[name] for name in self.fields if not name.endswith(MARK)]

    def words(self) -> str:
        """Of a row while it is closed."""
        return self.typed("name")

    def entry_at(self, path: str) -> str:
        """The field a place of the document is about; empty where none of those shown is."""
        leaf = self.stands_at.get(path) or self.stands_at.get(path.partition("[")[0]) or path.replace(".", "_")
        return leaf if leaf in self.fields and self.is_shown(leaf) else ""


def as_typed(name: str, value: Any, system: System, plain: Iterable[str] = ()) -> str:
    is_length = isinstance(value, str) and name not in plain and _LENGTH.fullmatch(value)
    return typed(value, system if is_length else None)
