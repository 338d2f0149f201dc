"""Bills as documents."""

from catalog.core.ground.plain_text import money, plain
from jobs.bills.models import Bill, BillLine, BillPhoto
from jobs.bills.services.listing import OpenGoods
from quoting.platform.api.base import Document, day


def of_draft(row: Bill) -> Document:
    """What whoever photographed the slip is shown: no money."""
    return {
        "id": row.pk,
        "note": row.note,
        "made_by": row.made_by_name,
        "made_at": row.made_at.isoformat(),
        "photo_count": len(row.photos.all()),
    }


def of_bill(row: Bill) -> Document:
    reversed_by = row.reversed_by.pk if hasattr(row, "reversed_by") else None
    return {
        **of_draft(row),
        "version": row.version,
        "state": row.state,
        "kind": row.kind,
        "supplier": row.supplier_id,
        "shop": row.shop,
        "number": row.number,
        "day": row.day.isoformat(),
        "posted_month": f"{row.posted_month:%Y-%m}" if row.posted_month else None,
        "due": day(row.due),
        "tax": money(row.tax),
        "freight": money(row.freight),
        "total": money(row.total),
        "entered_by": row.entered_by_name,
        "voided_by": row.voided_by_name,
        "void_reason": row.void_reason,
        "takes_back": row.reverses_id,
        "taken_back_by": reversed_by,
        "photos": [of_photo(photo) for photo in row.photos.all()],
        "lines": [of_line(line) for line in row.lines.all()],
        "accepted": [{"sentence": entry.sentence, "by": entry.accepted_by_name} for entry in row.accepted.all()],
    }


def of_line(row: BillLine) -> Document:
    line = row.order_line
    return {
        "place": row.place,
        "job": row.job.key if row.job else None,
        "category": row.category,
        "item": row.item,
        "what": row.what,
        "quantity": plain(row.quantity),
        "unit_price": plain(row.unit_price),
        "amount": money(row.amount),
        "tax": money(row.tax),
        "tag": row.tag,
        "order": line.order.number if line else row.order.number if row.order else None,
        "order_place": line.place if line else None,
        "receipt": row.receipt_id,
        "returned": row.returned_id,
    }


def of_photo(row: BillPhoto) -> Document:
    return {
        "id": row.pk,
        "sha256": row.sha256,
        "size_bytes": row.size_bytes,
        "width_px": row.width_px,
        "height_px": row.height_px,
        "added_by": row.added_by,
        "added_at": row.added_at.isoformat(),
    }


def of_goods(goods: OpenGoods) -> Document:
    return {
        "order": goods.row.order,
        "place": goods.line.place,
        "supplier": goods.line.order.supplier_id,
        "job": goods.line.job.key,
        "what": goods.row.what,
        "unit": goods.line.unit,
        "quantity": plain(goods.quantity),
        "price": plain(goods.row.asked_price),
        "amount": money(goods.amount),
        "came_on": day(goods.came_on),
    }
