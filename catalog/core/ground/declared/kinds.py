"""Kinds of declared fields: how a value is read from JSON, written to it, and described by JSON Schema 2020-12.

A kind judges form and bounds of one value; what several fields must agree on is judged by the dataclass itself, in
`__post_init__`. Lengths are in mm, angles in radians, whatever the document writes them in.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any, Protocol

from catalog.core.ground.document_reader import MAX_ITEMS, MAX_TEXT, DocumentError, DocumentProblem, Reader
from catalog.core.ground.lengths import length, length_at
from catalog.core.ground.plain_text import money, plain
from catalog.core.ground.units import System, sqft_from_mm2, sqm_from_mm2

Schema = dict[str, Any]
NOT_BLANK = r"\S"
EXACT_RE = re.compile(r"-?[0-9]+(\.[0-9]+)?")
MAX_MONEY = Decimal("9999999999.99")
"""As much as is kept of an amount."""


class Refs(Protocol):
    """How schemas name one another. answers: what is described is answered, not sent."""

    answers: bool

    def part(self, name: str) -> Schema:
        """A reference to a shared part such as `length` or `day`."""

    def declared(self, declared: type) -> Schema:
        """A reference to the schema of a declared type, which is made as well."""


@dataclass(frozen=True)
class Writing:
    """How a value is written: lengths of results for people in one system; without what is withheld (costs, margins).

    within: the whole that is being written, for views.
    """

    system: System = "metric"
    withheld: Collection[str] = ()
    within: Any = None


class Kind:
    """How the value of a field is read, written and described."""

    def read(self, reader: Reader, name: str) -> Any:
        """A value that must be there. Raises DocumentError with the path, the value and what would be right."""
        raise NotImplementedError(f"{type(self).__name__} is written only.")

    def read_or(self, reader: Reader, name: str, default: Any) -> Any:
        """The value, or the default where the document has nothing or null."""
        if reader.has(name):
            return self.read(reader, name)
        reader.pass_over(name)
        return default

    def fault(self, value: Any) -> str:
        """Why a value made in a program cannot be one of this kind; empty where it can."""
        return ""

    def write(self, value: Any, how: Writing) -> Any:
        return value

    def schema(self, refs: Refs) -> Schema:
        raise NotImplementedError

    def optional_schema(self, refs: Refs) -> Schema:
        return or_null(self.schema(refs))


def or_null(schema: Schema) -> Schema:
    if "enum" in schema:
        return {**schema, "enum": [*schema["enum"], None]}
    if isinstance(schema.get("type"), str):
        return {**schema, "type": [schema["type"], "null"]}
    if isinstance(schema.get("type"), list):
        return {**schema, "type": [*schema["type"], "null"]}
    return {"anyOf": [schema, {"type": "null"}]}


@dataclass(frozen=True)
class Text(Kind):
    """Needed, it holds more than blanks; with a default it may be empty. empty_is_none: so may one that may be null."""

    longest: int = MAX_TEXT
    pattern: str = NOT_BLANK
    empty_is_none: bool = False

    def read(self, reader: Reader, name: str) -> str:
        return reader.text(name, longest=self.longest)

    def read_or(self, reader: Reader, name: str, default: Any) -> Any:
        if default is None and self.empty_is_none:
            return reader.text(name, "", self.longest) or None
        if default is None:
            return super().read_or(reader, name, None)
        return reader.text(name, default, self.longest)

    def schema(self, refs: Refs) -> Schema:
        if refs.answers:
            return {"type": "string"}
        return {"type": "string", "pattern": self.pattern, "maxLength": self.longest}

    def optional_schema(self, refs: Refs) -> Schema:
        if refs.answers:
            return or_null(self.schema(refs))
        pattern = {} if self.pattern == NOT_BLANK else {"pattern": self.pattern}
        return {"type": ["string", "null"], **pattern, "maxLength": self.longest}


@dataclass(frozen=True)
class Stripped(Text):
    """Text without the blanks around it. one_line: each row of blanks between words is one."""

    one_line: bool = False

    def read(self, reader: Reader, name: str) -> str:
        return self._stripped(super().read(reader, name))

    def read_or(self, reader: Reader, name: str, default: Any) -> Any:
        value = super().read_or(reader, name, default)
        return None if value is None else self._stripped(value)

    def _stripped(self, value: str) -> str:
        return " ".join(value.split()) if self.one_line else value.strip()


@dataclass(frozen=True)
class Words(Kind):
    """Text as it stands; it may be empty."""

    def read(self, reader: Reader, name: str) -> str:
        return reader.text(name, "")

    def schema(self, refs: Refs) -> Schema:
        return {"type": "string"}


@dataclass(frozen=True)
class Email(Kind):
    """A mail address; it may be empty."""

    def read(self, reader: Reader, name: str) -> str:
        return reader.email(name)

    def schema(self, refs: Refs) -> Schema:
        return {"type": "string", "maxLength": 254}


@dataclass(frozen=True)
class Choice(Kind):
    """One of several words or numbers; derived from a Literal."""

    among: tuple[Any, ...]

    def read(self, reader: Reader, name: str) -> Any:
        return reader.choice(name, self.among)

    def fault(self, value: Any) -> str:
        return "" if value in self.among else f"{value!r} is not one of {', '.join(map(str, self.among))}"

    def schema(self, refs: Refs) -> Schema:
        return {"const": self.among[0]} if self.among in ((True,), (False,)) else {"enum": list(self.among)}


@dataclass(frozen=True)
class Constant(Kind):
    """A word that says what the object is."""

    word: str

    def read(self, reader: Reader, name: str) -> Any:
        return reader.choice(name, (self.word,))

    def schema(self, refs: Refs) -> Schema:
        return {"const": self.word}


@dataclass(frozen=True)
class Flag(Kind):
    def read(self, reader: Reader, name: str) -> bool:
        return reader.flag(name, False)

    def schema(self, refs: Refs) -> Schema:
        return {"type": "boolean"}


@dataclass(frozen=True)
class Number(Kind):
    """An exact number from low to high, both included, written as text without an exponent."""

    low: str = "0"
    high: str = "1000000"

    def read(self, reader: Reader, name: str) -> Decimal:
        return reader.decimal(name, self.low, self.high)

    def fault(self, value: Decimal) -> str:
        return _outside(value, Decimal(self.low), Decimal(self.high))

    def write(self, value: Any, how: Writing) -> Any:
        return None if value is None else format(value.normalize(), "f")

    def schema(self, refs: Refs) -> Schema:
        bounds = {"minimum": _number(self.low), "maximum": _number(self.high)}
        return {"type": ["number", "string"], **bounds, "maxLength": 20, "minLength": 1}


@dataclass(frozen=True)
class Whole(Kind):
    """A whole number from low to high, both included."""

    low: int = 0
    high: int = 1_000_000_000

    def read(self, reader: Reader, name: str) -> int:
        return reader.whole(name, self.low, self.high)

    def fault(self, value: Any) -> str:
        if isinstance(value, int) and not isinstance(value, bool) and self.low <= value <= self.high:
            return ""
        return f"must be a whole number from {self.low} to {self.high}, not {value!r}"

    def schema(self, refs: Refs) -> Schema:
        return {
            "type": ["integer", "string"],
            "minimum": self.low,
            "maximum": self.high,
            "minLength": 1,
            "maxLength": 20,
        }


@dataclass(frozen=True)
class Real(Kind):
    """A number held as a float, from low to high, both included, written as JSON writes it. places: kept at most."""

    low: str = "0"
    high: str = "1000000"
    places: int | None = None

    def read(self, reader: Reader, name: str) -> float:
        number = float(reader.decimal(name, self.low, self.high))
        return number if self.places is None else round(number, self.places)

    def schema(self, refs: Refs) -> Schema:
        return Number(self.low, self.high).schema(refs)


@dataclass(frozen=True)
class Count(Kind):
    """A whole number of an answer."""

    low: int | None = None

    def schema(self, refs: Refs) -> Schema:
        return {"type": "integer", **({} if self.low is None else {"minimum": self.low})}


@dataclass(frozen=True)
class Plain(Kind):
    """A number of an answer, as JSON writes it."""

    def schema(self, refs: Refs) -> Schema:
        return {"type": "number"}


@dataclass(frozen=True)
class Money(Kind):
    """An amount in the firm's currency, at most two places; allow_negative: of either sign.

    two_places: written with both of them, however it was read.
    """

    allow_negative: bool = False
    two_places: bool = False

    def read(self, reader: Reader, name: str) -> Decimal:
        return reader.money(name, allow_negative=self.allow_negative)

    def fault(self, value: Decimal) -> str:
        return _outside(value, -MAX_MONEY if self.allow_negative else Decimal(0), MAX_MONEY)

    def write(self, value: Any, how: Writing) -> Any:
        return None if value is None else format(value, ".2f" if self.two_places else "f")

    def schema(self, refs: Refs) -> Schema:
        return refs.part("signed_money" if self.allow_negative else "money")


@dataclass(frozen=True)
class Amount(Kind):
    """Money of an answer: text with two places."""

    def write(self, value: Any, how: Writing) -> Any:
        return money(value)

    def schema(self, refs: Refs) -> Schema:
        return {"type": "string", "pattern": r"^-?[0-9]+\.[0-9]{2}$"}


@dataclass(frozen=True)
class Figure(Kind):
    """An exact figure of an answer, as text."""

    def write(self, value: Any, how: Writing) -> Any:
        return plain(value)

    def schema(self, refs: Refs) -> Schema:
        return {"type": "string", "pattern": r"^-?[0-9]+(\.[0-9]+)?$"}


@dataclass(frozen=True)
class Exact(Figure):
    """A figure as it is held, with its zeros: what `write` wrote reads back the same to the last of them."""

    def read(self, reader: Reader, name: str) -> Decimal:
        value, text = reader.decimal(name, "-1e15", "1e15"), reader.raw(name)
        return Decimal(text) if isinstance(text, str) and EXACT_RE.fullmatch(text) else value

    def write(self, value: Decimal | None, how: Writing) -> Any:
        return None if value is None else format(value, "f")


@dataclass(frozen=True)
class Length(Kind):
    """A length in mm, written with its unit. signed: a coordinate. exact: held as a Decimal, else as a float."""

    signed: bool = False
    exact: bool = False

    def read(self, reader: Reader, name: str) -> float | Decimal:
        length_mm = reader.length_of(name, reader.raw(name), allow_negative=self.signed)
        return Decimal(repr(length_mm)) if self.exact else length_mm

    def write(self, value: Any, how: Writing) -> Any:
        return None if value is None else write_length(float(value))

    def schema(self, refs: Refs) -> Schema:
        return refs.part("coordinate" if self.signed else "length")


def write_length(length_mm: float) -> str:
    """A length exactly as stored, for a document.

    >>> write_length(4267.2)
    '4267.2 mm'
    """
    return f"{format(Decimal(repr(length_mm)).normalize(), 'f')} mm"


@dataclass(frozen=True)
class Measured(Kind):
    """A length in mm of an answer: mm, inches and text for people, in the system written in.

    zero_is_null: nothing is of no length there.
    """

    zero_is_null: bool = False

    def write(self, value: Any, how: Writing) -> Any:
        return None if value is None or (self.zero_is_null and not value) else length(value, how.system)

    def schema(self, refs: Refs) -> Schema:
        part = refs.part("Length")
        return or_null(part) if self.zero_is_null else part


@dataclass(frozen=True)
class Coordinate(Kind):
    """A coordinate in mm of an answer, either sign, as a length is shown."""

    def write(self, value: float, how: Writing) -> Any:
        return length_at(value, how.system)

    def schema(self, refs: Refs) -> Schema:
        return refs.part("Length")


@dataclass(frozen=True)
class Area(Kind):
    """An area in mm2 of an answer, in square metres and square feet."""

    def write(self, value: float, how: Writing) -> Any:
        return {"m2": round(sqm_from_mm2(value), 6), "sqft": round(sqft_from_mm2(value), 6)}

    def schema(self, refs: Refs) -> Schema:
        return refs.part("Area")


@dataclass(frozen=True)
class Angle(Kind):
    """An angle in radians, written in degrees to nine places, far below any tape."""

    signed: bool = False

    def read(self, reader: Reader, name: str) -> float:
        return reader.angle_rad(name, allow_negative=self.signed)

    def write(self, value: Any, how: Writing) -> Any:
        return None if value is None else round(math.degrees(value), 9)

    def schema(self, refs: Refs) -> Schema:
        return refs.part("angle")


@dataclass(frozen=True)
class Day(Kind):
    def read(self, reader: Reader, name: str) -> date:
        return reader.day(name)

    def fault(self, value: Any) -> str:
        is_day = isinstance(value, date) and not isinstance(value, datetime)
        return "" if is_day else f"must be a day, not {value!r}"

    def write(self, value: date | None, how: Writing) -> Any:
        return None if value is None else value.isoformat()

    def schema(self, refs: Refs) -> Schema:
        return refs.part("day")


@dataclass(frozen=True)
class Month(Kind):
    """A month of an answer, by any of its days: 2027-05."""

    def write(self, value: date | None, how: Writing) -> Any:
        return None if value is None else f"{value:%Y-%m}"

    def schema(self, refs: Refs) -> Schema:
        return {"type": "string", "pattern": r"^20[0-9]{2}-(0[1-9]|1[0-2])$", "description": "Such as 2027-05."}


@dataclass(frozen=True)
class TimeOfDay(Kind):
    def read(self, reader: Reader, name: str) -> time | None:
        return reader.optional_time(name)

    def write(self, value: time | None, how: Writing) -> Any:
        return None if value is None else f"{value:%H:%M}"

    def schema(self, refs: Refs) -> Schema:
        return {"type": "string", "pattern": "^[0-9]{2}:[0-9]{2}$"}


@dataclass(frozen=True)
class Moment(Kind):
    """A point in time of an answer, by RFC 3339."""

    def write(self, value: datetime | None, how: Writing) -> Any:
        return None if value is None else value.isoformat()

    def schema(self, refs: Refs) -> Schema:
        return {"type": "string", "format": "date-time"}


@dataclass(frozen=True)
class Part(Kind):
    """JSON described by a part of that name elsewhere in the schema; it stands as it is, or as `writing` makes it."""

    name: str
    writing: Callable[[Any], Any] | None = None

    def write(self, value: Any, how: Writing) -> Any:
        return value if self.writing is None else self.writing(value)

    def schema(self, refs: Refs) -> Schema:
        return refs.part(self.name)


@dataclass(frozen=True)
class Items(Kind):
    """A list of values of one kind, at most so many; nothing given is an empty list.

    once: what no two of them may have alike, and the rest of the sentence that says so. least: the class itself holds
    to it.
    """

    each: Kind
    most: int = MAX_ITEMS
    once: Callable[[Any], str] | None = None
    twice: str = "is given twice"
    least: int = 0

    def read(self, reader: Reader, name: str) -> tuple[Any, ...]:
        values = {f"{name}[{index}]": value for index, value in enumerate(reader.values(name, self.most))}
        items = reader.holding(values)
        entries: list[Any] = []
        problems: list[DocumentProblem] = []
        for index_name in values:
            try:
                entries.append(self.each.read(items, index_name))
            except DocumentError as error:
                problems += error.complaints
        if not problems and self.once is not None:
            doubled = [key for key, count in Counter(map(self.once, entries)).items() if count > 1]
            problems = [DocumentProblem(reader.where(name), f'"{key}" {self.twice}') for key in doubled]
        if problems:
            raise DocumentError(problems)
        return tuple(entries)

    def fault(self, value: Any) -> str:
        return next(filter(None, map(self.each.fault, value)), "")

    def write(self, value: Any, how: Writing) -> Any:
        return None if value is None else [self.each.write(entry, how) for entry in value]

    def schema(self, refs: Refs) -> Schema:
        least = {"minItems": self.least} if self.least else {}
        bounds = {} if refs.answers else {**least, "maxItems": self.most}
        return {"type": "array", "items": self.each.schema(refs), **bounds}


@dataclass(frozen=True)
class Mapped(Kind):
    """An object whose names are data: keys of materials, steps, words."""

    each: Kind

    def read(self, reader: Reader, name: str) -> dict[str, Any]:
        inner = reader.object(name)
        return {key: self.each.read(inner, key) for key in inner.names()}

    def write(self, value: Mapping[str, Any], how: Writing) -> Any:
        return {key: self.each.write(entry, how) for key, entry in value.items()}

    def schema(self, refs: Refs) -> Schema:
        return {"type": "object", "additionalProperties": self.each.schema(refs)}


@dataclass(frozen=True)
class Custom(Kind):
    """A kind of one room: its own reading, writing and schema."""

    reading: Callable[[Reader, str], Any]
    writing: Callable[[Any], Any]
    described: Schema

    def read(self, reader: Reader, name: str) -> Any:
        return self.reading(reader, name)

    def write(self, value: Any, how: Writing) -> Any:
        return None if value is None else self.writing(value)

    def schema(self, refs: Refs) -> Schema:
        return dict(self.described)


def _outside(value: Decimal, low: Decimal, high: Decimal) -> str:
    return "" if value.is_finite() and low <= value <= high else f"must be from {low:,} to {high:,}, not {value}"


def _number(text: str) -> int | float:
    return int(text) if "." not in text else float(text)
