"""Fields that hold an entry of a document and show it as people write it: shares in per cent, a sentence a line."""

from collections.abc import Iterable
from decimal import Decimal, InvalidOperation
from typing import Any

from django import forms

from catalog.core.ground.plain_text import plain


def percent_entry(share: Decimal | None) -> str:
    return "" if share is None else plain(share * 100) or "0"


def share_text(percent: str) -> str:
    """What was typed as a percentage, as the share a document holds; anything else is left for the core to refuse."""
    typed = percent.strip().removesuffix("%").strip()
    try:
        share = Decimal(typed) / 100
    except InvalidOperation:
        return percent
    return format(share, "f") if share.is_finite() else percent


class ShareField(forms.CharField):
    """A share of a document, typed in per cent or as a fraction such as 1/3."""

    def offered(self, share: str | None) -> str:
        return share if share and "/" in share else percent_entry(Decimal(share)) if share else ""

    def to_python(self, value: Any) -> str:
        typed = super().to_python(value)
        return typed.replace(" ", "") if "/" in typed else share_text(typed) if typed else ""


class LinesField(forms.CharField):
    """Sentences of a document, each on a line of its own."""

    def offered(self, sentences: Iterable[str] | None) -> str:
        return "\n".join(sentences or ())

    def to_python(self, value: Any) -> Any:
        return [line.strip() for line in super().to_python(value).splitlines() if line.strip()]
