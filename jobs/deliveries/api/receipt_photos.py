"""Photos of what came: of one line of a delivery, by whoever checks it in. No supplier and no money."""

from django.http import HttpResponse
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import Reader
from jobs.deliveries.api.shapes import claims as shapes
from jobs.deliveries.models import ReceiptLine, ReceiptPhoto
from jobs.deliveries.services.deliveries import add_receipt_photo
from jobs.walls.pages.pages import picture_response
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of
from quoting.platform.api.describing import describe
from quoting.platform.api.negotiation import AsItIs
from quoting.platform.firm_day import signature_of


class ReceiptPhotos(ApiView):
    @describe("list_receipt_photos", "Photos of one receipt of a line.", gives="ReceiptPhotos")
    def get(self, request: Request, receipt_id: int) -> Response:
        row = ReceiptLine.objects.prefetch_related("photos").get(pk=receipt_id)
        return Response(write(row.photos.all(), shapes.ReceiptPhotos))

    @describe(
        "add_receipt_photo",
        "Add a photo to a receipt. Safe to repeat.",
        takes="NewReceiptPhoto",
        gives="ReceiptPhoto",
        status=201,
        again=True,
    )
    def post(self, request: Request, receipt_id: int) -> Response:
        now, row = clock.now(), ReceiptLine.objects.get(pk=receipt_id)
        asked = read(shapes.NewReceiptPhoto, Reader(document_of(request)))
        known = set(row.photos.values_list("pk", flat=True))
        signature = signature_of(request.user, now)
        photo = add_receipt_photo(row, asked.file, caption=asked.caption, signature=signature, now=now)
        return Response(write(photo, shapes.ReceiptPhoto), status=200 if photo.pk in known else 201)


class ReceiptPhotoFile(ApiView):
    content_negotiation_class = AsItIs

    @describe("read_receipt_photo", "The picture itself, as it was kept.", gives="picture")
    def get(self, request: Request, photo_id: int) -> HttpResponse:
        return picture_response(ReceiptPhoto.objects.get(pk=photo_id))
