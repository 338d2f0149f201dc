"""Photos of what came: of one line of a delivery, by whoever checks it in. No supplier and no money."""

import binascii
from base64 import b64decode
from typing import Any

from django.http import HttpResponse
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.document_reader import Reader
from jobs.deliveries.models import ReceiptLine, ReceiptPhoto
from jobs.deliveries.services.deliveries import add_receipt_photo, receipt_photo_bytes
from jobs.walls.pages.pages import picture_response
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document, document_of
from quoting.platform.api.describing import describe
from quoting.platform.api.negotiation import AsItIs
from quoting.platform.firm_day import signature_of
from quoting.platform.papers.pictures import MAX_BYTES

MAX_LETTERS = -(-MAX_BYTES // 3) * 4
MAX_CAPTION = 200


class ReceiptPhotos(ApiView):
    @describe("list_receipt_photos", "Photos of what came of one line at once.", gives="ReceiptPhotos")
    def get(self, request: Request, receipt_id: int) -> Response:
        row = ReceiptLine.objects.prefetch_related("photos").get(pk=receipt_id)
        return Response({"photos": [of_photo(photo) for photo in row.photos.all()]})

    @describe(
        "add_receipt_photo",
        "Add a photo of what came of one line. The same picture sent twice is kept once.",
        takes="NewReceiptPhoto",
        gives="ReceiptPhoto",
        status=201,
        again=True,
    )
    def post(self, request: Request, receipt_id: int) -> Response:
        now, row, reader = clock.now(), ReceiptLine.objects.get(pk=receipt_id), Reader(document_of(request))
        data, caption = picture_of(reader), reader.text("caption", "", longest=MAX_CAPTION)
        reader.finish()
        known = set(row.photos.values_list("pk", flat=True))
        signature = signature_of(request.user, now)
        photo = add_receipt_photo(row, data, caption=caption, signature=signature, now=now)
        return Response(of_photo(photo), status=200 if photo.pk in known else 201)


class ReceiptPhotoFile(ApiView):
    content_negotiation_class = AsItIs

    @describe("read_receipt_photo", "The picture itself, as it was kept.", gives="picture")
    def get(self, request: Request, photo_id: int) -> HttpResponse:
        photo = ReceiptPhoto.objects.get(pk=photo_id)
        return picture_response(photo, receipt_photo_bytes(photo))


def picture_of(reader: Reader) -> bytes:
    text: Any = reader.text("file", longest=MAX_LETTERS)
    try:
        return b64decode(text.encode("ascii"), validate=True)
    except (UnicodeEncodeError, binascii.Error) as error:
        raise reader.error("file", "is not Base64 (RFC 4648); send the bytes of a JPEG or a PNG in it") from error


def of_photo(row: ReceiptPhoto) -> Document:
    return {
        "id": row.pk,
        "caption": row.caption,
        "sha256": row.sha256,
        "size_bytes": row.size_bytes,
        "width_px": row.width_px,
        "height_px": row.height_px,
        "added_by": row.added_by,
        "added_at": row.added_at.isoformat(),
    }
