"""Values of a document as a person would type them."""

from decimal import Decimal
from typing import Any

from catalog.core.ground.plain_text import half_up
from catalog.core.ground.units import MM_PER_INCH, System, UnitError, format_length, parse_length


def typed(value: Any, lengths_in: System | None) -> str:
    """A value of a document as a person would type it; lengths_in: the units, for a length."""
    match value:
        case None:
            return ""
        case bool():
            return "yes" if value else "no"
        case str() if lengths_in:
            return length_entry(float(value.removesuffix(" mm")), lengths_in)
        case float():
            return f"{Decimal(repr(value)).normalize():f}"
    return str(value)


def length_entry(length_mm: float, system: System) -> str:
    """The shortest way to type exactly this length: sixteenths, else decimal inches, else millimetres."""
    exact_mm = Decimal(repr(length_mm))
    inches = half_up(exact_mm / Decimal(str(MM_PER_INCH)), 4).normalize()
    ways = (format_length(length_mm, system), f"{inches:f} in") if system == "imperial" else ()
    for text in (*ways, f"{exact_mm.normalize():f} mm"):
        if _says(text, exact_mm):
            return text
    return f"{exact_mm:f} mm"


def _says(text: str, exact_mm: Decimal) -> bool:
    try:
        return parse_length(text, what="", bare_unit="mm", allow_negative=True) == exact_mm
    except UnitError:
        # The longest length there is, rounded to a sixteenth, is beyond it.
        return False
