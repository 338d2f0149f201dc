"""The firm's standing sentences and notices, changed from the list as it was read. Quotes issued stay as they are."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.db import transaction
from django.http import Http404
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import entries_of, read, write
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import Refused
from quoting.core.quotes import firm_texts as core
from quoting.platform.api.base import ApiView, Document, document_of, held, mark_of, tagged
from quoting.platform.api.describing import describe
from quoting.platform.formatting import day_words
from quoting.texts.api.shapes import LastDay, NoticeEntry, PlaceEntry, SentenceShown, StandingTexts
from quoting.texts.models import NoticePack, NoticePlace, StandardText
from quoting.texts.services import firm_texts as service

SENTENCE = tuple(entry.name for entry in entries_of(core.StandardText) if entry.name != "key")
Method = Callable[..., Response]


def from_the_list(method: Method) -> Method:
    """A change of texts that are still as If-Match names them; the answer carries the mark they have then."""

    @wraps(method)
    @transaction.atomic
    def guarded(view: ApiView, request: Request, **where: Any) -> Response:
        # What is put in beside what is held has a day and a key of its own, and takes nobody's away.
        for rows in (NoticePlace.objects.all(), NoticePack.objects.all()):
            list(rows.order_by("pk").select_for_update(of=("self",)).values_list("pk"))
        held(request, StandardText.objects.all(), written)
        return listed(method(view, request, **where))

    return guarded


class Texts(ApiView):
    @describe(
        "list_texts", "Every sentence, notice and place, whenever it is in force.", gives="StandingTexts", tagged=True
    )
    def get(self, request: Request) -> Response:
        return listed(Response(written()))


class Sentence(ApiView):
    @describe(
        "set_sentence",
        "A sentence of this key from a day on: new, another wording, or the one of that day changed.",
        takes="NewSentence",
        gives="Sentence",
        tagged=True,
        guarded="the texts",
    )
    @from_the_list
    def put(self, request: Request, key: str) -> Response:
        document = document_of(request, SENTENCE)
        return Response(write(service.set_standard_text({**document, "key": key}), SentenceShown))


class EndSentence(ApiView):
    @describe("end_sentence", "The wording in force ends with a day.", takes="LastDay", status=204, guarded="the texts")
    @from_the_list
    def post(self, request: Request, key: str) -> Response:
        last_day = read(LastDay, Reader(document_of(request))).last_day
        if not service.end_standard_text(key, last_day):
            raise Refused(f"No wording of this sentence is in force on {day_words(last_day)}.")
        return Response(status=204)


class Wording(ApiView):
    @describe("remove_wording", "Take one wording of a sentence away.", status=204, guarded="the texts")
    @from_the_list
    def delete(self, request: Request, text_id: int) -> Response:
        return gone(service.remove_standard_text(text_id))


class Notices(ApiView):
    @describe(
        "set_notice",
        "A version of a notice, its place made if new. One of the same place, language and first day is changed, so "
        "safe to repeat.",
        takes="NoticePack",
        gives="NoticeEntry",
        status=201,
        tagged=True,
        guarded="the texts",
    )
    @from_the_list
    def post(self, request: Request) -> Response:
        return Response(write(service.set_notice(document_of(request)), NoticeEntry), status=201)


class Notice(ApiView):
    @describe("remove_notice", "Take one version of a notice away.", status=204, guarded="the texts")
    @from_the_list
    def delete(self, request: Request, notice_id: int) -> Response:
        return gone(service.remove_notice(notice_id))


class Places(ApiView):
    @describe(
        "set_notice_place",
        "A place of work, and whether no quote goes out there without its notice. Safe to repeat.",
        takes="NewPlace",
        gives="PlaceEntry",
        status=201,
        tagged=True,
        guarded="the texts",
    )
    @from_the_list
    def post(self, request: Request) -> Response:
        return Response(write(service.set_notice_place(document_of(request)), PlaceEntry), status=201)


class Place(ApiView):
    @describe("remove_notice_place", "Take a place without notices away.", status=204, guarded="the texts")
    @from_the_list
    def delete(self, request: Request, place_id: int) -> Response:
        return gone(service.remove_notice_place(place_id))


def written() -> Document:
    return write(None, StandingTexts)


def listed(response: Response) -> Response:
    return tagged(response, mark_of(written()))


def gone(was_there: bool) -> Response:
    if not was_there:
        raise Http404
    return Response(status=204)
