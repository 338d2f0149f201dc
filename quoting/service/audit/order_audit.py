"""Invariants of what becomes of orders, and of photos; loaded with the other audit checks."""

from collections import Counter
from collections.abc import Iterable, Iterator
from datetime import datetime

from django.db.models import F, OuterRef, Q, Subquery

from catalog.core.ground.day_words import day_words
from jobs.buying.services.kept_orders import orders_astray
from jobs.dates.services.kept_to_order import needs_astray
from jobs.deliveries.models import ReceiptLine
from jobs.orders.models import OrderLine, Promise
from jobs.walls.services.kept_pictures import photo_models, photos_folder
from quoting.changes.models import Substitution
from quoting.platform.papers.errors import PaperNotKept
from quoting.platform.papers.filing import StoredFile, verify_file
from quoting.service.audit.services.audit import audit_check


@audit_check("orders")
def what_became_of_orders_adds_up(now: datetime) -> Iterable[str]:
    astray = ReceiptLine.objects.exclude(line__order=F("delivery__order"))
    for row in astray.select_related("delivery__order", "line__order"):
        yield f"A receipt of {row.delivery.order} is of a line of {row.line.order}."
    early = ReceiptLine.objects.filter(delivery__received_on__lt=F("delivery__order__placed_on"))
    for row in early.select_related("delivery__order"):
        yield f"Goods of {row.delivery.order} came {day_words(row.delivery.received_on)}, before it was placed."
    yield from _promises()
    yield from _replacements()
    yield from _pieces()
    for row in Substitution.objects.filter(draft__isnull=False, note__isnull=False):
        yield f"Substitution {row.pk} has a draft and a note; its draft was issued as that note."


def _promises() -> Iterator[str]:
    last = Promise.objects.filter(line=OuterRef("pk")).order_by("-entered_at", "-pk").values("promised_on")[:1]
    rows = OrderLine.objects.annotate(last=Subquery(last)).exclude(Q(promised_on=F("last")) | Q(last=None))
    for line in rows.select_related("order"):
        text, last = (day_words(day) if day else "no day" for day in (line.promised_on, line.last))
        yield f"{line.order}: {line.what} says {text} was promised, and the last promise says {last}."


def _replacements() -> Iterator[str]:
    for line in OrderLine.objects.exclude(replaces=None).select_related("order", "replaces__order"):
        first = line.replaces
        if (line.job_id, line.material_id) != (first.job_id, first.material_id):
            yield f"{line.order}: {line.what} replaces another item of {first.order}."


def _pieces() -> Iterator[str]:
    """Counts follow from the pieces; good ones may be more than were ordered."""
    for row in ReceiptLine.objects.exclude(pieces=None).select_related("delivery__order").prefetch_related("pieces"):
        counted = Counter(piece.state for piece in row.pieces.all())
        bad = (row.damaged, row.wrong) != (counted["damaged"], counted["wrong"])
        if bad or row.good < counted["good"]:
            yield f"A receipt of {row.delivery.order} counts other pieces than it names."


@audit_check("kept orders")
def what_is_kept_of_orders_is_what_their_rows_say(now: datetime) -> Iterable[str]:
    for order in orders_astray():
        yield f"{order.order}: what Today reads of it is not what its rows say."
    for to_order, needs in needs_astray().items():
        for need in needs:
            left = "" if to_order else "not "
            yield f"{need.job}: {need.material} is {left}left to order, and its row says otherwise."


@audit_check("photos")
def photos_are_kept(now: datetime) -> Iterable[str]:
    for model in photo_models:
        for photo in model._default_manager.all():
            try:
                verify_file(photos_folder(), StoredFile(photo.file_name, photo.sha256, photo.size_bytes))
            except PaperNotKept as error:
                yield f"{photo}: {error}"
