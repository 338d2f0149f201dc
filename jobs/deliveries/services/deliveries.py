"""A delivery with its photos: all of it is kept or none, and sent twice it is kept once."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction

from catalog.core.ground.document_reader import DocumentError
from jobs.deliveries.models import Delivery, ReceiptLine, ReceiptPhoto
from jobs.deliveries.services.receiving import check_in
from jobs.orders.models import Order
from jobs.walls.services.kept_pictures import keep_picture, picture_sent
from quoting.platform.papers.pictures import Picture
from quoting.platform.people.signatures import Signature

MAX_A_RECEIPT = 20
MAX_CAPTION = 200
SLIP = "Packing slip"
Photos = Mapping[int, list[bytes]]
"""What was photographed, by the place of the line on its order."""


def keep_delivery(
    order: Order,
    document: dict[str, Any],
    photos: Photos,
    signature: Signature,
    *,
    now: datetime,
    slip: bytes | None = None,
) -> tuple[Delivery, bool]:
    """As `check_in`, with photos by line. slip: of the packing slip, kept with the first line that came.

    Raises what that does; a picture refused is named by its line, or "slip".
    """
    slip_picture = picture_sent(slip, "slip") if slip else None
    clean = {place: [picture_sent(data, f"lines[{place}].photo") for data in files] for place, files in photos.items()}
    with transaction.atomic():
        delivery, is_new = check_in(order, document, signature, now=now)
        for row in delivery.lines.select_related("line"):
            for picture in clean.get(row.line.place, ()):
                _keep(row, picture, _caption(row), signature.by, now, f"lines[{row.line.place}].photo")
        first = delivery.lines.order_by("line__place").first()
        if slip_picture is not None and first is not None:
            _keep(first, slip_picture, SLIP, signature.by, now, "slip")
    return delivery, is_new


def add_receipt_photo(
    row: ReceiptLine, data: bytes, *, caption: str, signature: Signature, now: datetime
) -> ReceiptPhoto:
    """The same picture sent twice is one. Raises DocumentError at "file" or "caption"."""
    words = " ".join(caption.split()) or _caption(row)
    if len(words) > MAX_CAPTION:
        raise DocumentError.at("caption", f"is {len(words)} characters long; at most {MAX_CAPTION}")
    picture = picture_sent(data)
    with transaction.atomic():
        return _keep(row, picture, words, signature.by, now, "file")


def _caption(row: ReceiptLine) -> str:
    state = "damaged" if row.damaged else "wrong" if row.wrong else "as it came"
    return (row.note.strip() or f"{row.line.what}, {state}")[:MAX_CAPTION]


def _keep(row: ReceiptLine, picture: Picture, caption: str, by: str, now: datetime, path: str) -> ReceiptPhoto:
    row = ReceiptLine.objects.select_for_update().get(pk=row.pk)
    full = f"this line has {MAX_A_RECEIPT} photos already, the most it can have"
    about = {"receipt": row, "caption": caption, "added_by": by, "added_at": now}
    photo: ReceiptPhoto = keep_picture(row.photos, picture, most=MAX_A_RECEIPT, full=full, path=path, **about)
    return photo
