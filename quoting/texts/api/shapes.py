"""What the API shows of the firm's texts, and what is sent to it."""

from dataclasses import dataclass
from datetime import date
from typing import Annotated

from catalog.core.ground.declared import Choice, Of, View
from quoting.core.quotes import firm_texts as core
from quoting.platform.api.declared import answer_shapes, request_shapes
from quoting.platform.api.parts import Schema
from quoting.texts.models import NoticePack, NoticePlace, StandardText
from quoting.texts.services.firm_texts import NewPlace


class SentenceShown(View):
    """One wording of a standing sentence."""

    document_name = "sentence"

    id: int
    key: str
    block: Annotated[str, Choice(core.BLOCKS)]
    text: str
    starts_on: date
    ends_on: date | None


class NoticeEntry(View):
    """One version of a place's notice in a language."""

    id: int
    place: Annotated[str, Of("place.name")]
    language: str
    version: str
    title: str
    text: str
    source: str
    starts_on: date
    ends_on: date | None


class PlaceEntry(View):
    """A place of work, and whether no quote goes out there without its notice."""

    id: int
    name: str
    requires_notice: bool


class StandingTexts(View):
    """Every sentence, notice and place, whenever it is in force."""

    sentences: Annotated[tuple[SentenceShown, ...], Of(lambda _: StandardText.objects.all())]
    notices: Annotated[tuple[NoticeEntry, ...], Of(lambda _: NoticePack.objects.select_related("place"))]
    places: Annotated[tuple[PlaceEntry, ...], Of(lambda _: NoticePlace.objects.all())]


@dataclass(frozen=True)
class LastDay:
    """The last day it holds."""

    last_day: date


def _without_key(sentence: Schema) -> Schema:
    """The key of a sentence stands in its address."""
    properties = {name: part for name, part in sentence["properties"].items() if name != "key"}
    return {**sentence, "properties": properties, "required": [name for name in sentence["required"] if name != "key"]}


SHAPES: Schema = {
    **answer_shapes(StandingTexts),
    **request_shapes(core.NoticePack, NewPlace, LastDay),
    "NewSentence": _without_key(request_shapes(core.StandardText)["StandardText"]),
}
