"""Declared dataclasses read from documents and written to them."""

from __future__ import annotations

import types
from collections.abc import Callable, Collection, Mapping
from dataclasses import MISSING, dataclass, fields, is_dataclass, replace
from datetime import date, datetime
from decimal import Decimal
from functools import cache
from inspect import get_annotations
from typing import Annotated, Any, ClassVar, Literal, TypeVar, Union, get_args, get_origin

from catalog.core.ground.declared.kinds import (
    Choice,
    Constant,
    Count,
    Day,
    Figure,
    Flag,
    Items,
    Kind,
    Mapped,
    Moment,
    Plain,
    Refs,
    Schema,
    Text,
    Words,
    Writing,
)
from catalog.core.ground.declared.views import NOTHING, Of, View, shown_name, taken_from
from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader
from catalog.core.ground.refusal import EntryError, InvalidValue
from catalog.core.ground.units import System

T = TypeVar("T")
Document = dict[str, Any]
UNITS = ("_mm", "_rad")
PLAINLY = Writing()


@dataclass(frozen=True)
class As:
    """What else a field declares beside its kind and description.

    name: in documents, where it is not the field's own without its unit. label, hint, rows: on forms: where it is not
    the name in words, what stands under it, how many lines its box has. words: on forms, of the words it is one of.
    in_percent: a share that people write so. example: in the API. needed: in documents,
    though the class has a default. absent: what a document stands for that leaves it out, though the class needs it.
    left_out: not written while it is the default. withheld: not shown to roles that see no "costs", or no "margins",
    or to all but the "owner". aside: no part of documents; whoever reads one gives it. spread: what it holds stands
    among the names around it.
    """

    name: str = ""
    label: str = ""
    hint: str = ""
    rows: int = 0
    words: tuple[tuple[str, str], ...] = ()
    in_percent: bool = False
    example: Any = None
    needed: bool = False
    absent: Any = None
    left_out: bool = False
    withheld: str = ""
    aside: bool = False
    spread: bool = False


@dataclass(frozen=True)
class Entry:
    """A declared field: of the dataclass (`field`), in documents (`name`). of_class: nothing makes the value of it."""

    field: str
    name: str
    kind: Kind
    description: str
    needed: bool
    nullable: bool
    default: Callable[[], Any]
    options: As
    taken: Callable[[Any, Writing], Any]
    of_class: bool = False

    @property
    def label(self) -> str:
        return self.options.label or self.name.replace("_", " ").capitalize()

    def read(self, reader: Reader) -> Any:
        if self.options.spread and isinstance(self.kind, Declared):
            return read(self.kind.of, reader, whole=False)
        return (
            self.kind.read(reader, self.name) if self.needed else self.kind.read_or(reader, self.name, self.default())
        )


def read(declared: type[T], reader: Reader, *, whole: bool = True, **aside: Any) -> T:
    """A declared dataclass read from an object of a document.

    reader: of the object. whole: nothing else may stand in it. aside: values of fields that are no part of documents.
    A class whose document has another form reads itself by a classmethod `from_document(reader)`. Raises
    DocumentError with every complaint of the object: path, value, what would be right.

    >>> @dataclass(frozen=True)
    ... class Crate:
    ...     code: Annotated[str, Text(60)]
    ...     open: bool = False
    >>> read(Crate, Reader({"code": "C-1", "open": True}))
    Crate(code='C-1', open=True)
    """
    own: Callable[[Reader], T] | None = getattr(declared, "from_document", None)
    if own is not None:
        return own(reader)
    return build(declared, reader, read_fields(declared, reader, whole=whole) | aside)


def read_fields(declared: type, reader: Reader, *, whole: bool = True) -> dict[str, Any]:
    """The values of the declared fields, by the names of the dataclass; complaints of all of them come together."""
    values: dict[str, Any] = {}
    problems: list[DocumentProblem] = []
    for entry in _own_entries(declared):
        if entry.of_class and not isinstance(entry.kind, Constant):
            reader.pass_over(entry.name)
            continue
        try:
            value = entry.read(reader)
            if not entry.of_class:
                values[entry.field] = value
        except DocumentError as error:
            problems += error.complaints
    if whole:
        try:
            reader.finish()
        except DocumentError as error:
            problems += error.complaints
    if problems:
        raise DocumentError(problems)
    return values


def build(declared: Callable[..., T], reader: Reader, values: Mapping[str, Any]) -> T:
    """The value itself; what it refuses is said with the path of the entry, or of the object it came from."""
    try:
        return declared(**values)
    except EntryError as error:
        raise reader.error(error.field, error.reason) from error
    except InvalidValue as error:
        raise reader.error(error.field, str(error)) from error


def write(
    value: Any,
    view: type | None = None,
    *,
    system: System = "metric",
    withheld: Collection[str] = (),
    within: Any = None,
) -> Document:
    """A declared dataclass as a document, names in the order of its fields; `read` reads it back the same.

    view: what shows the value, where it is not declared itself; within: the whole it is part of. system: of lengths
    written for people. withheld: what is not shown, "costs" or "margins". A class whose document has another form
    writes itself by a method `to_document()`.
    """
    return _write(value, Writing(system, withheld, within), view)


def _write(value: Any, how: Writing, view: type | None = None) -> Document:
    own: Callable[[Any], Document] | None = getattr(view or type(value), "to_document", None)
    return own(value) if own is not None else write_fields(value, how, view)


def write_fields(value: Any, how: Writing = PLAINLY, view: type | None = None) -> Document:
    """What `write` makes of a class without a form of its own."""
    document: Document = {}
    declared: Any = view or type(value)
    if getattr(declared, "is_whole", False):
        how = replace(how, within=value)
    for entry in entries_of(declared):
        options = entry.options
        if options.withheld and options.withheld in how.withheld:
            continue
        inner = entry.taken(value, how)
        if options.left_out and inner == entry.default():
            continue
        document[entry.name] = None if inner is None else entry.kind.write(inner, how)
    return document


@dataclass(frozen=True)
class Declared(Kind):
    """An object of a declared class; derived where the type of a field is one."""

    of: Any

    def read(self, reader: Reader, name: str) -> Any:
        return read(self.of, reader.object(name))

    def write(self, value: Any, how: Writing) -> Any:
        return _write(value, how, self.of if issubclass(self.of, View) else None)

    def schema(self, refs: Refs) -> Schema:
        return refs.declared(self.of)


@dataclass(frozen=True)
class OneOf(Kind):
    """An object of one of several declared classes, told by the constant each holds under one name."""

    by: str
    classes: tuple[Any, ...]

    def read(self, reader: Reader, name: str) -> Any:
        return self.read_object(reader.object(name))

    def read_object(self, reader: Reader) -> Any:
        word = reader.choice(self.by, tuple(self.words))
        return read(self.words[word], reader)

    @property
    def words(self) -> dict[str, Any]:
        return {_word_of(declared, self.by): declared for declared in self.classes}

    def write(self, value: Any, how: Writing) -> Any:
        return _write(value, how)

    def schema(self, refs: Refs) -> Schema:
        parts = {word: refs.declared(declared) for word, declared in self.words.items()}
        mapping = {word: part["$ref"] for word, part in parts.items()}
        return {"oneOf": list(parts.values()), "discriminator": {"propertyName": self.by, "mapping": mapping}}


def _word_of(declared: Any, name: str) -> str:
    kind = next(entry.kind for entry in entries_of(declared) if entry.name == name)
    assert isinstance(kind, Constant), f"{declared.__name__}.{name} is not a constant"
    return kind.word


@cache
def entries_of(declared: Any) -> tuple[Entry, ...]:
    """What a dataclass declares, in the order of its fields; those aside are no part of it."""
    return tuple(entry for own in _own_entries(declared) for entry in _spread(own))


@cache
def _own_entries(declared: Any) -> tuple[Entry, ...]:
    """The same, each that is spread still in one."""
    # Functions in annotations see the names of their module so; by get_type_hints they would not.
    hints = {
        name: hint for of in reversed(declared.__mro__) for name, hint in get_annotations(of, eval_str=True).items()
    }
    if issubclass(declared, View):
        entries = (_shown(name, hint) for name, hint in hints.items() if get_origin(hint) is not ClassVar)
    else:
        own = {field.name: field for field in fields(declared)}
        entries = (
            _entry(own[name], hint) if name in own else _of_class(name, _Stated.of(get_args(hint)[0]))
            for name, hint in hints.items()
            if name in own or _is_constant(hint)
        )
    return tuple(entry for entry in entries if not entry.options.aside)


def _is_constant(hint: Any) -> bool:
    return get_origin(hint) is ClassVar and any(isinstance(note, Constant) for note in _parted(get_args(hint)[0])[1])


def _of_class(name: str, stated: _Stated) -> Entry:
    """A constant of documents that is the same for every value of the class."""
    kind = stated.kind or _NONE
    taken = taken_from(name, None)
    return Entry(name, name, kind, stated.description, True, False, lambda: NOTHING, stated.options, taken, True)


def _spread(entry: Entry) -> tuple[Entry, ...]:
    if not entry.options.spread:
        return (entry,)
    assert isinstance(entry.kind, Declared), f"{entry.field} is not an object"
    return tuple(
        replace(inner, taken=_through(entry, inner), nullable=entry.nullable or inner.nullable)
        for inner in entries_of(entry.kind.of)
    )


def _through(entry: Entry, inner: Entry) -> Callable[[Any, Writing], Any]:
    def taken(value: Any, how: Writing) -> Any:
        part = entry.taken(value, how)
        return None if part is None else inner.taken(part, how)

    return taken


def entry_of(declared: Any, name: str) -> Entry:
    """One declared field by its name in documents. Raises KeyError."""
    return {entry.name: entry for entry in entries_of(declared)}[name]


def _entry(field: Any, hint: Any) -> Entry:
    stated = _Stated.of(hint)
    has_default = field.default is not MISSING or field.default_factory is not MISSING
    may_be_left_out = has_default or stated.nullable or stated.options.absent is not None
    fixed = stated.options.absent if field.default is MISSING else field.default
    default = field.default_factory if field.default_factory is not MISSING else lambda: fixed
    return Entry(
        field.name,
        stated.options.name or _bare_name(field.name),
        stated.kind or (_NONE if stated.options.aside else kind_of(stated.bare)),
        stated.description,
        stated.options.needed or not may_be_left_out,
        stated.nullable,
        default,
        stated.options,
        taken_from(field.name, None),
        of_class=not field.init,
    )


def _shown(field: str, hint: Any) -> Entry:
    """A property of a view. Figures imply a kind here, for nothing is read."""
    stated = _Stated.of(hint)
    name, by_name = shown_name(field)
    kind = stated.kind or (_NONE if stated.options.aside else _shown_kind(stated.bare, by_name))
    taken = taken_from(field, stated.from_where, left_out=stated.options.left_out)
    name = stated.options.name or name
    return Entry(field, name, kind, stated.description, True, stated.nullable, lambda: NOTHING, stated.options, taken)


def _shown_kind(stated: Any, by_name: Kind | None) -> Kind:
    origin, inner = get_origin(stated), get_args(stated)
    if origin is Annotated:
        return _Stated.of(stated).kind or _shown_kind(inner[0], by_name)
    if origin is tuple:
        return Items(_shown_kind(inner[0], by_name))
    if isinstance(stated, type) and issubclass(stated, View):
        return Declared(stated)
    return by_name or _SHOWN.get(stated) or kind_of(stated)


@dataclass(frozen=True)
class _Stated:
    """What the annotation of a field says; what is written outermost counts."""

    bare: Any
    nullable: bool
    kind: Kind | None
    description: str
    options: As
    from_where: Of | None

    @classmethod
    def of(cls, hint: Any) -> _Stated:
        hint, notes = _parted(hint)
        bare, nullable = _without_none(hint)
        bare, more = _parted(bare)
        notes = (*more, *notes)
        return cls(
            bare,
            nullable,
            next((note for note in reversed(notes) if isinstance(note, Kind)), None),
            next((note for note in reversed(notes) if isinstance(note, str)), ""),
            next((note for note in reversed(notes) if isinstance(note, As)), As()),
            next((note for note in reversed(notes) if isinstance(note, Of)), None),
        )


def _parted(hint: Any) -> tuple[Any, tuple[Any, ...]]:
    return (get_args(hint)[0], hint.__metadata__) if get_origin(hint) is Annotated else (hint, ())


_NONE = Kind()


def _bare_name(name: str) -> str:
    return next((name.removesuffix(unit) for unit in UNITS if name.endswith(unit)), name)


def _without_none(stated: Any) -> tuple[Any, bool]:
    if get_origin(stated) not in (Union, types.UnionType):
        return stated, False
    rest = [part for part in get_args(stated) if part is not type(None)]
    return (rest[0] if len(rest) == 1 else stated), len(rest) < len(get_args(stated))


def kind_of(stated: Any) -> Kind:
    """The kind a type implies; figures imply none, for they have bounds and units. Raises TypeError."""
    origin, inner = get_origin(stated), get_args(stated)
    if origin is Annotated:
        return next((part for part in stated.__metadata__ if isinstance(part, Kind)), None) or kind_of(inner[0])
    if stated in _IMPLIED:
        return _IMPLIED[stated]
    if origin is Literal:
        return Choice(inner)
    if origin in (tuple, list) or getattr(origin, "__name__", "") == "Sequence":
        return Items(kind_of(inner[0]))
    if isinstance(origin, type) and issubclass(origin, Mapping):
        return Mapped(kind_of(inner[1]))
    if is_dataclass(stated):
        return Declared(stated)
    raise TypeError(f"A field of the type {stated} declares its kind: there are several.")


_IMPLIED: dict[Any, Kind] = {str: Text(), bool: Flag(), date: Day(), datetime: Moment()}
_SHOWN: dict[Any, Kind] = {int: Count(), float: Plain(), Decimal: Figure(), str: Words()}
