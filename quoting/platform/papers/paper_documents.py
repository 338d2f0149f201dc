"""A filled paper as a JSON value and back, so that what is frozen can be set in type at any later time."""

from dataclasses import asdict, fields, is_dataclass
from functools import cache
from types import UnionType
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

Paper = TypeVar("Paper")
Document = dict[str, Any]


class PaperUnreadable(ValueError):
    pass


def write_paper(paper: Any) -> Document:
    return _plain(asdict(paper))


def read_paper(kind: type[Paper], document: Document) -> Paper:
    try:
        return _read(kind, document)
    except (TypeError, KeyError, ValueError) as error:
        raise PaperUnreadable(f"The kept {kind.__name__} cannot be read: {error}") from error


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {name: _plain(entry) for name, entry in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(entry) for entry in value]
    return value


@cache
def _hints(kind: type) -> dict[str, Any]:
    hints = get_type_hints(kind)
    return {field.name: hints[field.name] for field in fields(kind)}


def _read(hint: Any, value: Any) -> Any:
    if get_origin(hint) is tuple:
        return tuple(_read(get_args(hint)[0], entry) for entry in value)
    if get_origin(hint) in (Union, UnionType):
        if value is None:
            return None
        return _read(next(part for part in get_args(hint) if part is not type(None)), value)
    if is_dataclass(hint):
        hints = _hints(hint)  # type: ignore[arg-type]
        unknown = set(value) - set(hints)
        if unknown:
            raise KeyError(f"{hint.__name__} has no {', '.join(sorted(unknown))}")  # type: ignore[union-attr]
        return hint(**{name: _read(hints[name], entry) for name, entry in value.items()})  # type: ignore[operator]
    return value
