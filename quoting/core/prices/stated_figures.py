"""Kinds of the figures of a price: shares as they were stated, thirds as fractions."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

from catalog.core.ground.declared import Kind, Money, Number, Refs, Schema, Writing
from catalog.core.ground.document_reader import Reader

SIGNED = Money(allow_negative=True)
MAX_TITLE = 200


@dataclass(frozen=True)
class Stated(Number):
    """An exact number that keeps the zeros it was stated with."""

    def write(self, value: Any, how: Writing) -> str:
        return format(value, "f")


class Share(Kind):
    """A share of a whole, 0 to 1: a decimal, or a fraction written 1/3."""

    def read(self, reader: Reader, name: str) -> Decimal | Fraction:
        value = reader.raw(name)
        if not (isinstance(value, str) and "/" in value):
            return reader.decimal(name, "0", "1")
        try:
            top, bottom = (int(part) for part in value.split("/"))
            share = Fraction(top, bottom)
        except (ValueError, ZeroDivisionError):
            raise reader.error(name, f'"{value[:40]}" is not a share; write 0.25 or 1/3') from None
        if not 0 <= share <= 1 or len(value) > 20:
            raise reader.error(name, f"{value[:40]} must be from 0 to 1")
        return share

    def write(self, value: Decimal | Fraction, how: Writing) -> str:
        return str(value) if isinstance(value, Fraction) else format(value, "f")

    def schema(self, refs: Refs) -> Schema:
        return refs.part("share")
