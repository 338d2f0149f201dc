"""Reading a JSON document strictly: every complaint names the path, the value and what would be right.

A `Reader` wraps one JSON object and knows its path in the document. Lists are read item by item and the
complaints of all items are gathered, so that a person sees them together.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, time
from decimal import Decimal, InvalidOperation
from typing import Any, TypeVar

from catalog.core.ground.money import MoneyError, parse_money
from catalog.core.ground.typed_marks import PLAIN_MARKS, MoneyMarks
from catalog.core.ground.units import BareLengthUnit, UnitError, parse_angle_deg, parse_length, parse_number

T = TypeVar("T")
MAX_TEXT = 2_000
MAX_ITEMS = 5_000
MAX_DEPTH = 40
DAY_RE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
TIME_RE = re.compile(r"[0-9]{2}:[0-9]{2}")
CONTROL_RE = re.compile(r"[\x00-\x08\x0b-\x1f]")


@dataclass(frozen=True)
class DocumentProblem:
    """One thing wrong in a document: where (a path such as `walls[0].pieces[1].chord`) and why."""

    path: str
    reason: str

    def __str__(self) -> str:
        return f"{self.path}: {self.reason}" if self.path else self.reason


class DocumentError(ValueError):
    """A document that cannot be used; `complaints` holds every reason found, at least one."""

    status = 400
    """As HTTP says it; a class of its own may say another."""

    def __init__(self, complaints: Iterable[DocumentProblem]) -> None:
        self.complaints = tuple(complaints)
        super().__init__("\n".join(str(complaint) for complaint in self.complaints))

    @classmethod
    def at(cls, path: str, reason: str) -> DocumentError:
        return cls((DocumentProblem(path, reason),))

    def within(self, path: str) -> DocumentError:
        """The same complaints, with their paths inside of what stands at this one."""
        paths = (complaint.path.removeprefix(path).removeprefix(".") for complaint in self.complaints)
        return DocumentError(map(DocumentProblem, paths, (complaint.reason for complaint in self.complaints)))


def parse_document(text: str) -> dict[str, Any]:
    """Read JSON text into an object with exact numbers.

    text: a JSON document. Returns its object, numbers as int or Decimal. Raises DocumentError on bad JSON,
    NaN or infinities, doubled keys, nesting beyond 40 levels, text that is no Unicode text (a lone surrogate) or
    holds U+0000, or anything but an object.
    Source: RFC 8259, which leaves doubled keys, NaN and lone surrogates undefined; we refuse them.

    >>> parse_document('{"length": 168.50}')
    {'length': Decimal('168.50')}
    """
    if _depth(text) > MAX_DEPTH:
        raise DocumentError.at("", f"the document is nested more than {MAX_DEPTH} levels deep")
    try:
        value = json.loads(
            text,
            parse_float=_bounded,
            parse_int=_bounded_int,
            parse_constant=float,
            object_pairs_hook=_no_doubles,
        )
    except json.JSONDecodeError as error:
        if not text.strip():
            raise DocumentError.at("", "this is not JSON: the document is empty; write an object, { ... }") from error
        where = f"line {error.lineno}, column {error.colno}"
        raise DocumentError.at("", f"this is not JSON; {where}: {error.msg.removesuffix(' at')}") from error
    if not isinstance(value, dict):
        raise DocumentError.at("", "the document must be a JSON object, { ... }")
    _refuse_unwritable(value, "")
    return value


def _depth(text: str) -> int:
    depth = deepest = 0
    inside = escaped = False
    for letter in text:
        if inside:
            if escaped:
                escaped = False
            elif letter == "\\":
                escaped = True
            elif letter == '"':
                inside = False
        elif letter == '"':
            inside = True
        elif letter in "[{":
            depth += 1
            deepest = max(deepest, depth)
        elif letter in "]}":
            depth -= 1
    return deepest


def _bounded(text: str) -> Decimal:
    if len(text) > 40:
        raise DocumentError.at("", f"the number {text[:20]}... has too many digits")
    try:
        number = Decimal(text)
    except InvalidOperation as error:
        raise DocumentError.at("", f"the number {text} is out of range") from error
    if number and abs(number.adjusted()) > 400:
        raise DocumentError.at("", f"the number {text} is out of range")
    return number


def _bounded_int(text: str) -> int:
    if len(text) > 40:
        raise DocumentError.at("", f"the number {text[:20]}... has too many digits")
    return int(text)


def _refuse_unwritable(value: Any, path: str) -> None:
    """No database keeps U+0000 and no file a lone surrogate or NaN: better told here than lost there."""
    if isinstance(value, float):
        # Ordinary numbers are read exactly; only NaN, Infinity and -Infinity come as a float.
        name = {math.inf: "Infinity", -math.inf: "-Infinity"}.get(value, "NaN")
        raise DocumentError.at(path, f"{name} is not a number this document may hold; write one such as 168.5")
    if isinstance(value, str):
        if "\0" in value:
            raise DocumentError.at(path, "holds the character U+0000")
        if not value.isascii() and any("\ud800" <= letter <= "\udfff" for letter in value):
            raise DocumentError.at(path, "holds half of a surrogate pair, which is not a character")
    elif isinstance(value, dict):
        for name, inner in value.items():
            _refuse_unwritable(name, path)
            _refuse_unwritable(inner, f"{path}.{name}" if path else name)
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            _refuse_unwritable(inner, f"{path}[{index}]")


def _no_doubles(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    doubled: dict[str, Any] = {}
    for name, value in pairs:
        if name in doubled:
            raise DocumentError.at("", f"the name {name!r} is given twice in one object")
        doubled[name] = value
    return doubled


class Reader:
    """One object of a document, read by name; what is read is checked, what is left over is refused.

    value: the JSON object. path: where it stands. bare_unit: unit of lengths typed without one. marks: how amounts
    are printed where it was typed.
    """

    def __init__(
        self, value: Any, path: str = "", bare_unit: BareLengthUnit = "in", marks: MoneyMarks = PLAIN_MARKS
    ) -> None:
        if not isinstance(value, dict):
            raise DocumentError.at(path, f"must be an object, not {_shown(value)}")
        self._value = value
        self._left = set(value)
        self.path = path
        self.bare_unit: BareLengthUnit = bare_unit
        self.marks = marks

    def where(self, name: str) -> str:
        return f"{self.path}.{name}" if self.path else name

    def holding(self, value: dict[str, Any]) -> Reader:
        """Another object at the same place, read in the same way."""
        return Reader(value, self.path, self.bare_unit, self.marks)

    def has(self, name: str) -> bool:
        return self._value.get(name) is not None

    def names(self) -> tuple[str, ...]:
        return tuple(self._value)

    def error(self, name: str, reason: str) -> DocumentError:
        # What reads figures says the name first; here the path says it.
        return DocumentError.at(self.where(name) if name else self.path, reason.removeprefix(f"{name}: "))

    def raw(self, name: str) -> Any:
        self._left.discard(name)
        value = self._value.get(name)
        if value is None:
            raise self.error(name, "is missing")
        return value

    def pass_over(self, name: str) -> None:
        self._left.discard(name)

    def finish(self) -> None:
        """Refuse the names nobody asked for: a misspelt name must not pass for an absent one."""
        if self._left:
            raise DocumentError(
                DocumentProblem(self.where(name), "is not a name known here") for name in sorted(self._left)
            )

    def text(self, name: str, default: str | None = None, longest: int = MAX_TEXT) -> str:
        if default is not None and not self.has(name):
            self._left.discard(name)
            return default
        value = self.raw(name)
        if not isinstance(value, str):
            raise self.error(name, f"must be text, not {_shown(value)}")
        # A page sends a line break as two characters (HTML Standard, form submission); one is kept.
        if "\r" in value:
            value = value.replace("\r\n", "\n").replace("\r", "\n")
        if len(value) > longest:
            raise self.error(name, f"is {len(value)} characters long; at most {longest}")
        if CONTROL_RE.search(value):
            raise self.error(name, "holds a control character")
        if default is None and not value.strip():
            raise self.error(name, "must not be empty")
        return value

    def email(self, name: str) -> str:
        """A mail address, or nothing: one @ with a name before it and a domain of at least two parts behind it."""
        value = self.text(name, "", longest=254).strip()
        local, _, domain = value.rpartition("@")
        parts = domain.split(".")
        good = local and "@" not in local and len(parts) > 1 and all(parts) and not any(map(str.isspace, value))
        if value and not good:
            raise self.error(name, f'"{value}" is not a mail address; write one such as name@firm.example')
        return value

    def optional_text(self, name: str) -> str | None:
        return self.text(name) if self.has(name) else self._nothing(name)

    def choice(self, name: str, among: Iterable[T], default: T | None = None) -> T:
        if default is not None and not self.has(name):
            self._left.discard(name)
            return default
        value = self.raw(name)
        for allowed in among:
            if value == allowed and not isinstance(value, bool):
                return allowed
        raise self.error(name, f"{_shown(value)} is not one of {', '.join(str(a) for a in among)}")

    def optional_choice(self, name: str, among: Iterable[T]) -> T | None:
        return self.choice(name, among) if self.has(name) else self._nothing(name)

    def flag(self, name: str, default: bool) -> bool:
        if not self.has(name):
            self._left.discard(name)
            return default
        value = self.raw(name)
        if not isinstance(value, bool):
            raise self.error(name, f"must be true or false, not {_shown(value)}")
        return value

    def decimal(self, name: str, low: str, high: str, default: str | None = None) -> Decimal:
        """A number between low and high, both included; text or JSON number."""
        if default is not None and not self.has(name):
            self._left.discard(name)
            return Decimal(default)
        value = self._number(name, self.raw(name))
        if not Decimal(low) <= value <= Decimal(high):
            raise self.error(name, f"{value} must be from {low} to {high}")
        return value

    def optional_decimal(self, name: str, low: str, high: str) -> Decimal | None:
        return self.decimal(name, low, high) if self.has(name) else self._nothing(name)

    def whole(self, name: str, low: int, high: int, default: int | None = None) -> int:
        value = self.decimal(name, str(low), str(high), None if default is None else str(default))
        if value != value.to_integral_value():
            raise self.error(name, f"must be a whole number, not {value}")
        return int(value)

    def money(self, name: str, *, allow_negative: bool = False) -> Decimal:
        value = self.raw(name)
        typed = value if isinstance(value, str) else str(self._number(name, value))
        try:
            return parse_money(typed, name, allow_negative=allow_negative, marks=self.marks)
        except MoneyError as error:
            raise self.error(name, str(error)) from error

    def optional_money(self, name: str, *, allow_negative: bool = False) -> Decimal | None:
        return self.money(name, allow_negative=allow_negative) if self.has(name) else self._nothing(name)

    def length(self, name: str, default: float | None = None) -> float:
        """A length in mm: text with or without a unit, or a number in the document's unit."""
        if default is not None and not self.has(name):
            self._left.discard(name)
            return default
        return self.length_of(name, self.raw(name))

    def optional_length(self, name: str) -> float | None:
        return self.length(name) if self.has(name) else self._nothing(name)

    def length_of(self, name: str, value: Any, allow_negative: bool = False) -> float:
        if isinstance(value, bool) or not isinstance(value, str | int | float | Decimal):
            raise self.error(name, f"must be a length, not {_shown(value)}")
        text = value if isinstance(value, str) else format(self._number(name, value), "f")
        try:
            return float(parse_length(text, what=name, bare_unit=self.bare_unit, allow_negative=allow_negative))
        except UnitError as error:
            raise self.error(name, str(error)) from error

    def angle_rad(self, name: str, default: float | None = None, allow_negative: bool = False) -> float:
        """An angle in radians from degrees, as a number or as text such as 78.6 or 25° 30'."""
        if default is not None and not self.has(name):
            self._left.discard(name)
            return default
        value = self.raw(name)
        text = value if isinstance(value, str) else format(self._number(name, value), "f")
        try:
            return math.radians(float(parse_angle_deg(text, what=name, allow_negative=allow_negative)))
        except UnitError as error:
            raise self.error(name, str(error)) from error

    def day(self, name: str) -> date:
        value = self.raw(name)
        try:
            # A week date such as 2027-W01-1 is as long and is a day to Python, but nobody means it here.
            if not isinstance(value, str) or not DAY_RE.fullmatch(value):
                raise ValueError
            result = date.fromisoformat(value)
        except ValueError:
            raise self.error(name, f"{_shown(value)} is not a day; write it as 2027-01-25") from None
        if not 2000 <= result.year <= 2100:
            raise self.error(name, f"{value} is outside the years 2000 to 2100")
        return result

    def optional_day(self, name: str) -> date | None:
        return self.day(name) if self.has(name) else self._nothing(name)

    def optional_time(self, name: str) -> time | None:
        if not self.has(name):
            self._left.discard(name)
            return None
        value = self.raw(name)
        try:
            if not isinstance(value, str) or not TIME_RE.fullmatch(value):
                raise ValueError
            return time.fromisoformat(value)
        except ValueError:
            raise self.error(name, f"{_shown(value)} is not a time of day; write it as 14:30") from None

    def object(self, name: str) -> Reader:
        return Reader(self.raw(name), self.where(name), self.bare_unit, self.marks)

    def optional_object(self, name: str) -> Reader | None:
        return self.object(name) if self.has(name) else self._nothing(name)

    def values(self, name: str, most: int = MAX_ITEMS) -> list[Any]:
        """The bare items of a list; a list that is not given is empty."""
        if not self.has(name):
            self._left.discard(name)
            return []
        value = self.raw(name)
        if not isinstance(value, list):
            raise self.error(name, f"must be a list, not {_shown(value)}")
        if len(value) > most:
            raise self.error(name, f"holds {len(value)} items; at most {most}")
        return value

    def texts(self, name: str) -> tuple[str, ...]:
        result = self.values(name)
        for index, value in enumerate(result):
            if not isinstance(value, str) or not value.strip() or len(value) > MAX_TEXT:
                raise self.error(f"{name}[{index}]", f"must be text of 1 to {MAX_TEXT} characters")
        return tuple(result)

    def items(self, name: str, read: Callable[[Reader], T], most: int = MAX_ITEMS) -> tuple[T, ...]:
        """Every object of a list, read; complaints of all items come together."""
        entries: list[T] = []
        complaints: list[DocumentProblem] = []
        for index, value in enumerate(self.values(name, most)):
            path = f"{self.where(name)}[{index}]"
            try:
                reader = Reader(value, path, self.bare_unit, self.marks)
                entries.append(read(reader))
                reader.finish()
            except DocumentError as error:
                complaints.extend(error.complaints)
        if complaints:
            raise DocumentError(complaints)
        return tuple(entries)

    def _number(self, name: str, value: Any) -> Decimal:
        if isinstance(value, bool) or not isinstance(value, str | int | float | Decimal):
            raise self.error(name, f"must be a number, not {_shown(value)}")
        if isinstance(value, float):
            value = Decimal(repr(value)) if math.isfinite(value) else "not finite"
        if isinstance(value, str):
            try:
                return parse_number(value, what=name)
            except UnitError as error:
                raise self.error(name, str(error)) from error
        exact = Decimal(value)
        # Exponents such as 1e308 are legal JSON, but nothing measured here is beyond these.
        if not exact.is_finite() or exact.adjusted() > 15 or (exact and exact.adjusted() < -15):
            raise self.error(name, f"{_shown(value)} is out of range for a number here")
        return exact + 0

    def _nothing(self, name: str) -> Any:
        self._left.discard(name)
        return None


def gather(steps: Iterable[Callable[[], None]]) -> None:
    """Run each step and raise all their complaints together, so that one reading names every fault.

    >>> gather([lambda: None])
    """
    complaints: list[DocumentProblem] = []
    for step in steps:
        try:
            step()
        except DocumentError as error:
            complaints.extend(error.complaints)
    if complaints:
        raise DocumentError(complaints)


def read_all(**readings: Callable[[], Any]) -> dict[str, Any]:
    """Read each entry and return what was read, by name; the complaints of all of them come together.

    >>> read_all(crew=lambda: 2, title=lambda: "Screen")
    {'crew': 2, 'title': 'Screen'}
    """
    document: dict[str, Any] = {}
    complaints: list[DocumentProblem] = []
    for name, reading in readings.items():
        try:
            document[name] = reading()
        except DocumentError as error:
            complaints.extend(error.complaints)
    if complaints:
        raise DocumentError(complaints)
    return document


def _shown(value: Any) -> str:
    text = f'"{value}"' if isinstance(value, str) else str(value)
    return text if len(text) <= 60 else text[:57] + "..."
