"""A part of how a job is priced, as a page shows it: one form over the document, and rows of its lists."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

from django.forms.boundfield import BoundField
from django.http import QueryDict

from catalog.core.ground.document_reader import DocumentError
from quoting.platform.pages.document_fields import LinesField, ShareField
from quoting.platform.pages.document_form import Document, DocumentForm
from quoting.platform.pages.entry_form import EntryForm
from quoting.platform.pages.entry_rows import EntryRows
from quoting.platform.pages.error_summary import NotSaved, summary_of


@dataclass(frozen=True)
class Group:
    """Fields and rows under one name. says: around what its fields hold; nothing: where it holds none.

    is_open: from the start.
    """

    label: str
    fields: tuple[str, ...] = ()
    rows: str = ""
    hint: str = ""
    says: str = "{}"
    nothing: str = "none"
    is_open: bool = False


@dataclass(frozen=True)
class Line:
    """A group as it stands on the page. words: what it holds."""

    group: Group
    fields: tuple[BoundField, ...]
    rows: EntryRows | None
    words: str

    @property
    def is_open(self) -> bool:
        wrong = any(field.errors for field in self.fields)
        return self.group.is_open or wrong or (self.rows is not None and self.rows.has_errors)


class PricingPart:
    """document: what is stored at present; data: what was typed, if anything was. more: the rows that want one more."""

    head_of: ClassVar[type[DocumentForm]]
    rows_of: ClassVar[Mapping[str, type[EntryForm]]] = {}
    groups: ClassVar[tuple[Group, ...]]

    def __init__(
        self, data: QueryDict | None, document: Document, *, walls: tuple[str, ...] = (), more: str = ""
    ) -> None:
        self.data, self.stored, self.conflict = data, document, ""
        shown = self.shown(document)
        self.head = self.head_of(data, shown)
        self.rows = {
            name: EntryRows(
                form,
                name,
                data,
                shown.get(name) or [],
                spare=int(more == name),
                more=more == name,
                options={"walls": walls} if issubclass(form, OfAWall) else None,
                label=getattr(form, "label", "Row"),
            )
            for name, form in self.rows_of.items()
        }

    def shown(self, document: Document) -> Document:
        """The document as the fields show it."""
        return document

    def is_valid(self) -> bool:
        return all([self.head.is_valid(), *(rows.is_valid() for rows in self.rows.values())])

    def document(self) -> Document:
        """Every entry of the part; what was emptied is None."""
        nothing = {name.partition("-")[0]: None for name in self.head.base_fields}
        return nothing | self.head.document() | {name: rows.entries() for name, rows in self.rows.items()}

    def asks(self, name: str) -> bool:
        """Whether an entry of the document stands in it."""
        return name in self.rows or any(name == field.partition("-")[0] for field in self.head.fields)

    def complain(self, error: DocumentError) -> None:
        for complaint in error.complaints:
            if not any(rows.takes(complaint) for rows in self.rows.values()):
                self.head.complain(DocumentError([complaint]))

    @property
    def lines(self) -> list[Line]:
        return [self._line(group) for group in self.groups]

    def _line(self, group: Group) -> Line:
        fields, rows = tuple(self.head[name] for name in group.fields), self.rows.get(group.rows)
        held = ", ".join(filter(None, map(_words, fields)))
        words = [group.says.format(held) if held else "", *map(_row_words, rows.forms if rows else ())]
        return Line(group, fields, rows, ", ".join(filter(None, words)) or group.nothing)

    def parts(self) -> Iterator[DocumentForm | EntryRows]:
        """In the order of the page."""
        yield self.head
        yield from self.rows.values()

    def not_saved(self) -> NotSaved | None:
        return summary_of([self.conflict, *self.parts()]) if self.data is not None else None

    @property
    def sentences(self) -> list[str]:
        wrong = summary_of(self.parts()) if self.data is not None else None
        return [field.sentence for field in wrong.wrong] if wrong else []

    def status(self) -> int:
        return 422 if self.sentences else 200


class OfAWall(EntryForm):
    """A row that may belong to one wall; it is asked where the job has several."""

    def __init__(self, *args: Any, walls: tuple[str, ...] = (), **options: Any) -> None:
        super().__init__(*args, **options)
        chosen = self.data.get(self.add_prefix("wall")) if self.is_bound else self.initial.get("wall")
        names = dict.fromkeys([*walls, *([self.initial["wall"]] if self.initial.get("wall") else [])])
        self.fields["wall"].choices = [("", "The whole job"), *((name, name) for name in names)]  # type: ignore[attr-defined]
        if len(walls) < 2 and not chosen:
            del self.fields["wall"]


def _words(field: BoundField) -> str:
    value = field.value()
    if not value or field.is_hidden:
        return ""
    if value is True or value == "on":
        return str(field.label).lower()
    if isinstance(field.field, LinesField):
        return f"{len(str(value).splitlines())} in {str(field.label).lower()}"
    if isinstance(value, list):
        return f"{len(value)} left out"
    text = str(dict(getattr(field.field, "choices", ())).get(value, value))
    return f"{text} %" if isinstance(field.field, ShareField) and "/" not in text else text


def _row_words(form: EntryForm) -> str:
    says: tuple[str, ...] = getattr(form, "says", ())
    return " ".join(filter(None, (_words(form[name]) for name in says)))
