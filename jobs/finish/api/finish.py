"""The finish list of a job. Whoever is on the staff may enter and tick what is on it; it is signed with their name."""

from django.db import transaction
from django.http import HttpResponse
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import Reader
from jobs.finish.api.shapes import FinishItems, FinishItemShown, FinishPhotoShown, NewFinishPhoto
from jobs.finish.models import FinishItem, FinishPhoto
from jobs.finish.services.finish_list import add_item, add_photo_of, change_item, items_of, mend_item, open_again
from jobs.jobs.services.jobs import job_of
from jobs.walls.pages.pages import picture_response
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document, document_of, held, mark_of, tagged
from quoting.platform.api.describing import describe
from quoting.platform.api.negotiation import AsItIs
from quoting.platform.firm_day import signature_of


class FinishList(ApiView):
    @describe("list_finish_items", "The finish list of a job, mended items too.", gives="FinishItems")
    def get(self, request: Request, key: str) -> Response:
        return Response(write(items_of(job_of(key)), FinishItems))

    @describe(
        "add_finish_item",
        "Put something on the finish list. The same `request_key` enters it once.",
        takes="NewFinishItem",
        gives="FinishItem",
        status=201,
        again=True,
        tagged=True,
    )
    def post(self, request: Request, key: str) -> Response:
        now = clock.now()
        row, is_new = add_item(job_of(key), document_of(request), signature_of(request.user, now), now=now)
        return answered(row.pk, 201 if is_new else 200)


class OneFinishItem(ApiView):
    @describe("read_finish_item", "One item of a finish list.", gives="FinishItem", tagged=True)
    def get(self, request: Request, item_id: int) -> Response:
        return answered(item_id)

    @describe(
        "change_finish_item",
        "Correct what is wrong, where, who mends it and by when.",
        takes="FinishEntry",
        gives="FinishItem",
        tagged=True,
        guarded="the item",
    )
    @transaction.atomic
    def put(self, request: Request, item_id: int) -> Response:
        held(request, FinishItem.objects.filter(pk=item_id), lambda: written(item_id))
        change_item(item(item_id), document_of(request), signature_of(request.user, clock.now()))
        return answered(item_id)


class MendedFinishItem(ApiView):
    @describe(
        "mend_finish_item",
        "Say that an item is mended. Safe to repeat.",
        takes="MendedItem",
        gives="FinishItem",
        tagged=True,
    )
    def post(self, request: Request, item_id: int) -> Response:
        mend_item(item(item_id), document_of(request), signature_of(request.user, clock.now()))
        return answered(item_id)

    @describe("open_finish_item", "Undo that an item is mended.", status=204, stands=True)
    def delete(self, request: Request, item_id: int) -> Response:
        open_again(item(item_id))
        return Response(status=204)


class FinishPhotos(ApiView):
    @describe(
        "add_finish_photo",
        "Add a photo to an item. Safe to repeat.",
        takes="NewFinishPhoto",
        gives="FinishPhoto",
        status=201,
        again=True,
    )
    def post(self, request: Request, item_id: int) -> Response:
        now, row = clock.now(), item(item_id)
        sent, known = read(NewFinishPhoto, Reader(document_of(request))), set(row.photos.values_list("pk", flat=True))
        photo = add_photo_of(row, sent.file, signature_of(request.user, now), now=now)
        return Response(write(photo, FinishPhotoShown), status=200 if photo.pk in known else 201)


class FinishPhotoFile(ApiView):
    content_negotiation_class = AsItIs

    @describe("read_finish_photo", "The picture itself, as it was kept.", gives="picture")
    def get(self, request: Request, photo_id: int) -> HttpResponse:
        return picture_response(FinishPhoto.objects.get(pk=photo_id))


def item(item_id: int) -> FinishItem:
    return FinishItem.objects.select_related("job", "wall").get(pk=item_id)


def written(item_id: int) -> Document:
    return write(item(item_id), FinishItemShown)


def answered(item_id: int, status: int = 200) -> Response:
    document = written(item_id)
    return tagged(Response(document, status=status), mark_of(document))
