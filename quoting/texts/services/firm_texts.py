"""The firm's standing sentences and notices: kept by the day they start, read back as one core value."""

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.declared import Document, Stripped, read, write
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.services.row_sync import remove_first, save_if_changed
from quoting.core.quotes import firm_texts as core
from quoting.core.quotes.firm_texts import (
    BLOCKS,
    MAX_PLACE,
    FirmTexts,
)
from quoting.platform.models.core_values import column_values
from quoting.platform.read_once import read_once
from quoting.texts.models import NoticePack, NoticePlace, StandardText


@dataclass(frozen=True)
class NewPlace:
    """A place of work."""

    name: Annotated[str, Stripped(MAX_PLACE)]
    requires_notice: Annotated[bool, "Whether no quote for work there goes out without its notice."] = False


def firm_texts_of() -> FirmTexts:
    """All of them, every wording and version, in three queries, once a page."""
    return read_once("firm texts", _firm_texts)


def _firm_texts() -> FirmTexts:
    return FirmTexts(
        tuple(row.to_core() for row in StandardText.objects.all()),
        tuple(row.to_core() for row in NoticePack.objects.select_related("place")),
        tuple(NoticePlace.objects.filter(requires_notice=True).values_list("name", flat=True)),
    )


@transaction.atomic
def set_standard_text(document: Document) -> StandardText:
    """key, block, text, starts_on, ends_on; without a key a new sentence. A wording of the same day is changed."""
    if not document.get("key"):
        document = {**document, "key": _new_key(document.get("block"))}
    text = read(core.StandardText, Reader(document))
    others = StandardText.objects.filter(key=text.key)
    if others.exclude(block=text.block).exists():
        raise DocumentError.at("block", f'"{text.key}" stands in another block; give this sentence a key of its own')
    row = others.filter(starts_on=text.starts_on).first() or StandardText()
    save_if_changed(row, column_values(text, StandardText, order=_place(text.key, text.block)))
    return row


def _new_key(block: Any) -> str:
    if block not in BLOCKS:
        raise DocumentError.at("block", f"is not one of {', '.join(BLOCKS)}")
    taken = set(StandardText.objects.filter(block=block).values_list("key", flat=True))
    return next(key for number in range(1, len(taken) + 2) if (key := f"{block}-{number}") not in taken)


def _place(key: str, block: str) -> int:
    """A later wording stands where the first one stood; a new sentence comes last."""
    known = StandardText.objects.filter(key=key).values_list("order", flat=True).first()
    if known is not None:
        return known
    last = StandardText.objects.filter(block=block).order_by("-order").values_list("order", flat=True).first()
    return 0 if last is None else last + 1


def end_standard_text(key: str, last_day: date) -> bool:
    """The wording in force ends with that day; False when none is in force on it."""
    row = StandardText.objects.filter(key=key, starts_on__lte=last_day).order_by("-starts_on").first()
    if row is None or (row.ends_on is not None and row.ends_on < last_day):
        return False
    save_if_changed(row, {"ends_on": last_day})
    return True


def remove_standard_text(text_id: int) -> bool:
    return remove_first(StandardText.objects.filter(pk=text_id))


@transaction.atomic
def set_notice(document: Document) -> NoticePack:
    """A version of a notice; one of the same place, language and first day is changed. The place is made if new."""
    notice = read(core.NoticePack, Reader(document))
    place, _ = NoticePlace.objects.get_or_create(name=notice.place)
    mine = NoticePack.objects.filter(place=place, language=notice.language)
    row = mine.filter(starts_on=notice.starts_on).first() or NoticePack(place=place)
    if mine.filter(version=notice.version).exclude(pk=row.pk).exists():
        message = f'"{notice.version}" is taken by another wording of this notice; name this one otherwise'
        raise DocumentError.at("version", message)
    save_if_changed(row, vars(notice) | {"place": place})
    return row


def remove_notice(notice_id: int) -> bool:
    return remove_first(NoticePack.objects.filter(pk=notice_id))


@transaction.atomic
def set_notice_place(document: Document) -> NoticePlace:
    place = read(NewPlace, Reader(document))
    row = NoticePlace.objects.filter(name=place.name).first() or NoticePlace(name=place.name)
    save_if_changed(row, {"requires_notice": place.requires_notice})
    return row


def remove_notice_place(place_id: int) -> bool:
    """Refused while a notice of the place is kept."""
    row = NoticePlace.objects.filter(pk=place_id).first()
    if row is not None and row.notices.exists():
        raise DocumentError.at("place", f"{row} has notices; delete those first")
    return remove_first(NoticePlace.objects.filter(pk=place_id))


@transaction.atomic
def store_firm_texts(texts: FirmTexts) -> None:
    """Enter texts that came as a document, beside those there are; what is there of the same day is changed."""
    for text in texts.standard:
        set_standard_text(write(text))
    for name in texts.notice_required_at:
        set_notice_place({"name": name, "requires_notice": True})
    for notice in texts.notices:
        set_notice(write(notice))
