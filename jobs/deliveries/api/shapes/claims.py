"""What the API shows of claims, of photos of what came, and of what is ordered again; and what is sent to it."""

import binascii
from base64 import b64decode
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Annotated, Any

from catalog.core.ground.declared import Count, Declared, Figure, Items, Of, Text, View
from catalog.core.ground.document_reader import Reader
from jobs.deliveries.api.shapes.deliveries import Receipt
from jobs.deliveries.services.claim_letters import NewClaimLetter
from jobs.deliveries.services.claim_mailing import NewClaimMail
from jobs.deliveries.services.claims import Correction, NewClaim, SettledClaim
from jobs.deliveries.services.deliveries import MAX_CAPTION
from jobs.deliveries.services.replacements import NeedCheck, NewReplacement
from jobs.orders.api.shapes.orders import SentMail
from quoting.platform.api.declared import answer_shapes, list_of, request_shapes
from quoting.platform.papers.pictures import MAX_BYTES

MAX_LETTERS = -(-MAX_BYTES // 3) * 4


class Picture(Text):
    """The bytes of a picture, sent in Base64 (RFC 4648)."""

    def read(self, reader: Reader, name: str) -> Any:
        text = super().read(reader, name)
        try:
            return b64decode(text.encode("ascii"), validate=True)
        except (UnicodeEncodeError, binascii.Error) as error:
            raise reader.error(name, "is not Base64 (RFC 4648); send the bytes of a JPEG or a PNG in it") from error


PICTURE = Picture(longest=MAX_LETTERS)
Photo = Annotated[bytes, PICTURE, "A JPEG or a PNG in Base64 (RFC 4648)."]


class ReceiptPhoto(View):
    """A photo of what came, turned upright and without anything but its pixels."""

    id: Annotated[int, Of("pk")]
    caption: str
    sha256: str
    size_bytes: int
    width_px: int
    height_px: int
    added_by: str
    added_at: datetime


ReceiptPhotos = list_of("ReceiptPhotos", "photos", ReceiptPhoto, "Photos of one receipt of a line.")


class OpenClaim(View):
    """What is to be claimed or waits for an answer."""

    receipt: Receipt
    supplier: Annotated[str, Of("receipt.delivery.order.supplier.name")]
    days_left: Annotated[int | None, "Null where the supplier never said how long it takes a claim."]


Claims = list_of("Claims", "claims", OpenClaim, "By the working days left.")


ClaimMails = list_of("ClaimMails", "mails", SentMail, "Mails of a claim.")


class CheckedNeed(View):
    """When it would be usable, ordered again. Null where something is missing; gaps then say what."""

    ordered_on: Annotated[date | None, Of("result.ordered_on")]
    usable: Annotated[date | None, Of("result.arrives.usable")]
    need_by: Annotated[date | None, Of("result.need_by")]
    order_by: date | None
    late_workdays: Annotated[int | None, Of("result.late_workdays")]
    gaps: tuple[str, ...]


@dataclass(frozen=True)
class Replacement:
    """What came wrong or damaged and is not ordered again, and what ordering it today would mean."""

    left: Annotated[Decimal, Figure()]
    pieces: Annotated[Sequence[int], Items(Count()), "Their numbers, none of goods that are counted."]
    need: Annotated[NeedCheck, Declared(CheckedNeed)]
    orders: Sequence[str]


class OrderNamed(View):
    """The number of an order."""

    order: Annotated[str, Of("number")]


@dataclass(frozen=True)
class NewReceiptPhoto:
    """A photo of what came of one line."""

    file: Photo
    caption: Annotated[
        str, Text(longest=MAX_CAPTION), "What is to be seen; the note of the line where it is not said."
    ] = ""


SHAPES = answer_shapes(Receipt, ReceiptPhotos, Claims, ClaimMails, Replacement, OrderNamed) | request_shapes(
    Correction, NewReceiptPhoto, NewClaim, NewClaimLetter, NewClaimMail, SettledClaim, NewReplacement
)
