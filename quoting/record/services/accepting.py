"""The owner takes a standard from the record: dated, under a name, with what it rests on kept beside it."""

from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.declared import Number, Text, read
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.plain_text import plain
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import RequestKey, refuse_another
from catalog.models import Firm
from catalog.services.entries import change_material
from catalog.services.firm import set_standard
from quoting.platform.models.columns import quantized
from quoting.platform.people.signatures import Signature
from quoting.record.models import LearntStandard
from quoting.record.services.suggesting import Suggestion, suggestion_of

OWN_RECORD = "own record"


@dataclass(frozen=True)
class AcceptedStandard:
    """A standard as it was suggested."""

    request_key: RequestKey
    standard: Annotated[str, Text(120), "Its name, or `waste` and the code of a material."]
    value: Annotated[Decimal, Number(), "As it was suggested."]


@transaction.atomic
def accept_standard(document: dict[str, Any], signature: Signature, *, now: datetime) -> tuple[LearntStandard, bool]:
    """document: as `AcceptedStandard`. Sent twice it is accepted once; the row, whether it is new.

    Raises DocumentError, Refused.
    """
    # Of two who accept at once the second reads what the first wrote.
    list(Firm.objects.select_for_update().values_list("pk"))
    sent = read(AcceptedStandard, Reader(document))
    key, standard, seen = sent.request_key, sent.standard, sent.value
    present = LearntStandard.objects.filter(request_key=key).first()
    if present is not None:
        refuse_another((present.standard, present.value) != (standard, quantized(seen)), "another standard")
        return present, False
    suggestion = suggestion_of(standard)
    if suggestion is None or not suggestion.is_offered:
        raise Refused(
            f"The record suggests nothing for {suggestion.label if suggestion else standard}{_why(suggestion)}."
        )
    if suggestion.value != seen:
        raise Refused(
            f"The record suggests {plain(suggestion.value)} for {suggestion.label} now. Look again and accept that."
        )
    _write(suggestion, signature)
    return LearntStandard.objects.create(request_key=key, **_figures(suggestion, signature), accepted_at=now), True


def _why(suggestion: Suggestion | None) -> str:
    return f": {suggestion.lesson.why_not}" if suggestion else ""


def _write(suggestion: Suggestion, signature: Signature) -> None:
    if suggestion.is_waste:
        change_material(suggestion.material, {"waste": format(suggestion.value, "f")})
        return
    fact = {"value": format(suggestion.value, "f"), "source": OWN_RECORD, "sure": "firm"}
    set_standard(suggestion.standard, fact | {"stated_on": signature.on.isoformat()})


def _figures(suggestion: Suggestion, signature: Signature) -> dict[str, Any]:
    lesson = suggestion.lesson
    return {
        "standard": suggestion.standard,
        **{name: quantized(Decimal(getattr(suggestion, name))) for name in ("was", "value", "typical")},
        **{name: quantized(getattr(lesson, name)) for name in ("error_was", "error")},
        "count": lesson.n,
        "used": [job.job for job in lesson.used],
        "left_out": [{"job": job.job, "reason": why} for job, why in lesson.left_out],
        "accepted_on": signature.on,
        "accepted_by_name": signature.by,
    }
