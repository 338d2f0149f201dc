"""A bill entered: sent twice it is kept once, its number stands once, and what differs is accepted by name."""

from collections.abc import Collection
from datetime import datetime
from typing import Any

from django.db import IntegrityError, transaction
from django.db.models import QuerySet

from catalog.core.ground.day_words import day_words
from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import refuse_another
from jobs.bills.models import AcceptedDifference, Bill, BillLine, Category
from jobs.bills.services.credits import fill_credited
from jobs.bills.services.differences import refuse_unaccepted
from jobs.bills.services.reading import BillEntry, read_bill
from jobs.bills.services.sharing import lines_of, orders_of
from jobs.orders.models import Order
from quoting.platform.people.signatures import Signature
from quoting.platform.posting import month_to_post


def enter_bill(document: dict[str, Any], signature: Signature, *, now: datetime) -> tuple[Bill, bool]:
    """request_key, supplier or shop, kind, number, day, due, tax, freight, freight_order, total, note, accept, lines.

    Returns the bill, and whether it is new. Raises DocumentError naming the entry; Differs for what is not accepted;
    Refused for a key that has entered something else.
    """
    with transaction.atomic():
        entry = read_bill(document, signature)
        present = Bill.objects.filter(request_key=entry.request_key).first()
        if present is not None:
            return _the_same(present, entry), False
        bill = Bill(request_key=entry.request_key, made_at=now, made_by_name=signature.by)
        return _kept(bill, entry, signature, now)


def enter_draft(
    draft: Bill, document: dict[str, Any], signature: Signature, *, seen_version: int, now: datetime
) -> tuple[Bill, bool]:
    """The bill of a photographed slip; as `enter_bill`, under the key of the draft."""
    with transaction.atomic():
        draft = Bill.objects.select_for_update().get(pk=draft.pk)
        entry = read_bill(document, signature, request_key=draft.request_key)
        if not draft.is_draft:
            return _the_same(draft, entry), False
        if draft.voided_at:
            raise Refused(f"{draft.voided_by_name} voided this draft: {draft.void_reason}")
        if draft.version != seen_version:
            raise Refused("Somebody changed this draft since you opened it: open it again.")
        draft.version += 1
        return _kept(draft, entry, signature, now)


def _the_same(present: Bill, entry: BillEntry) -> Bill:
    refuse_another(present.is_draft or said_of(present) != entry.said, "another bill")
    return present


def _kept(bill: Bill, entry: BillEntry, signature: Signature, now: datetime) -> tuple[Bill, bool]:
    _hold(entry)
    bill.again = _times_voided(entry)
    sentences, lines = refuse_unaccepted(entry), lines_of(entry)
    for name in ("kind", "supplier", "shop", "number", "number_key", "day", "due", "tax", "freight", "total", "note"):
        setattr(bill, name, getattr(entry, name))
    bill.posted_month = month_to_post(entry.day)
    bill.entered_at, bill.entered_by_name = now, signature.by
    try:
        with transaction.atomic():
            bill.save()
    except IntegrityError:
        return _lost_the_race(bill, entry)
    for line in lines:
        line.bill = bill
    BillLine.objects.bulk_create(lines)
    about = {"bill": bill, "accepted_by_name": signature.by, "accepted_at": now}
    AcceptedDifference.objects.bulk_create(AcceptedDifference(sentence=sentence, **about) for sentence in sentences)
    fill_credited(lines, entry.day)
    return bill, True


def _hold(entry: BillEntry) -> None:
    """Of two who enter bills of one order the second waits, and sees what the first billed."""
    pks = {line.order_line.order_id for line in entry.lines if line.order_line} | {
        order.pk for order in orders_of(entry)
    }
    list(Order.objects.select_for_update(of=("self",)).filter(pk__in=pks).order_by("pk").values_list("pk"))


def of_this_number(entry: BillEntry) -> QuerySet[Bill]:
    """Entered bills of the same seller, kind and number, voided or not."""
    rows = Bill.objects.filter(kind=entry.kind, number_key=entry.number_key, reverses=None)
    rows = rows.exclude(entered_at=None)
    return (
        rows.filter(supplier=entry.supplier) if entry.supplier else rows.filter(supplier=None, shop__iexact=entry.shop)
    )


def _times_voided(entry: BillEntry) -> int:
    rows = list(of_this_number(entry).select_related("reversed_by"))
    standing = next((row for row in rows if not row.is_voided), None)
    if standing is not None:
        raise _number_twice(standing)
    return len(rows)


def _number_twice(standing: Bill) -> DocumentError:
    message = (
        f"{standing.number} of {standing.seller}, {day_words(standing.day)}, was entered by {standing.entered_by_name}"
    )
    return DocumentError.at("number", f"{message}; void that first, or type this one's own number")


def _lost_the_race(bill: Bill, entry: BillEntry) -> tuple[Bill, bool]:
    """Somebody entered the same at the same moment: with the same key it is the same bill."""
    present = Bill.objects.filter(request_key=entry.request_key).exclude(pk=bill.pk).first()
    if present is not None:
        return _the_same(present, entry), False
    raise _number_twice(of_this_number(entry).exclude(pk=bill.pk).order_by("-pk").first() or bill)


def said_of(bill: Bill) -> tuple[Any, ...]:
    """As `BillEntry.said` has it, of what is kept."""
    figures = (bill.day, bill.due, bill.tax, bill.freight, bill.total)
    rows: Collection[BillLine] = bill.lines.exclude(category=Category.FREIGHT).order_by("place")
    lines = tuple(
        (
            *(row.job_id, row.category, row.item, row.what, row.quantity, row.amount, row.tag),
            *(row.order_line_id, row.receipt_id, row.returned_id),
        )
        for row in rows
        if row.order_id is None and not _is_freight(row)
    )
    return (bill.kind, bill.supplier_id, bill.shop, bill.number, *figures, bill.note, lines)


def _is_freight(row: BillLine) -> bool:
    """A share of freight that is for no job."""
    return row.category == Category.OVERHEAD and row.item == row.what == "Freight"
