"""Bills that begin as a photo: the lead sends the slip from the site, the office enters what it says."""

from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256
from typing import Annotated, Any

from django.db import IntegrityError, transaction

from catalog.core.ground.declared import Stripped, read
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import RequestKey
from catalog.services.typed_money import entry_reader
from jobs.bills.models import Bill, BillPhoto
from jobs.bills.services.reading import MAX_NOTE
from jobs.walls.services.kept_pictures import keep_picture, picture_sent
from quoting.platform.papers.pictures import Picture
from quoting.platform.people.signatures import Signature

MAX_A_BILL = 10


class AnotherSlip(Refused):
    path = "request_key"

    def __init__(self) -> None:
        super().__init__("This form has sent another slip already: open it again and send this there.")


@dataclass(frozen=True)
class _Slip:
    request_key: RequestKey
    note: Annotated[str, Stripped(MAX_NOTE)] = ""


def send_slip(document: dict[str, Any], data: bytes, signature: Signature, *, now: datetime) -> tuple[Bill, bool]:
    """A draft of request_key and note, with its photo. Safe to repeat.

    Raises DocumentError naming the entry, Refused for a key that has sent something else.
    """
    slip, picture = read(_Slip, entry_reader(document)), picture_sent(data)
    mark = sha256(picture.data).hexdigest()
    try:
        with transaction.atomic():
            present = Bill.objects.filter(request_key=slip.request_key).first()
            if present is not None:
                return _the_same(present, slip, mark), False
            bill = Bill.objects.create(
                request_key=slip.request_key,
                note=slip.note,
                day=signature.on,
                made_at=now,
                made_by_name=signature.by,
            )
            _keep(bill, picture, signature.by, now)
            return bill, True
    except IntegrityError:
        return _the_same(Bill.objects.get(request_key=slip.request_key), slip, mark), False


def _the_same(present: Bill, slip: _Slip, mark: str) -> Bill:
    is_same = present.note == slip.note or not present.is_draft
    if not is_same or not present.photos.filter(sha256=mark).exists():
        raise AnotherSlip
    return present


def add_bill_photo(bill: Bill, data: bytes, signature: Signature, *, now: datetime) -> BillPhoto:
    """The same picture sent twice is one."""
    picture = picture_sent(data)
    with transaction.atomic():
        return _keep(Bill.objects.select_for_update().get(pk=bill.pk), picture, signature.by, now)


def _keep(bill: Bill, picture: Picture, by: str, now: datetime) -> BillPhoto:
    full = f"the bill has {MAX_A_BILL} photos already, the most it can have"
    about = {"bill": bill, "added_by": by, "added_at": now}
    photo: BillPhoto = keep_picture(bill.photos, picture, most=MAX_A_BILL, full=full, **about)
    return photo
