"""What a supplier's bill may stand for, goods here or to come, and its credit: what came bad or went back."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from catalog.core.ground.money import to_cents
from catalog.core.ground.plain_text import plain
from catalog.models import Supplier
from jobs.bills.models import BillKind
from jobs.bills.services.listing import OpenGoods, billed_lines, open_goods, to_credit
from jobs.core.ordering.order_lines import count_in_words
from jobs.deliveries.models import ReceiptLine, ReturnedGoods
from jobs.orders.models import OrderLine

TICKED = re.compile(r"(goods|receipt|returned)-([0-9]{1,15})-tick")


@dataclass(frozen=True)
class Offer:
    """names: by which the document names it. is_here: waits for this; else it is to come, or its price comes down."""

    key: str
    words: str
    about: str
    quantity: Decimal
    amount: Decimal | None
    names: dict[str, Any]
    is_here: bool = True


def offers_of(supplier: Supplier, kind: str) -> list[Offer]:
    if kind == BillKind.CREDIT:
        receipts, returned = to_credit(supplier)
        return [*map(_bad, receipts), *map(_back, returned), *map(_cheaper, billed_lines(supplier))]
    return [_goods(goods_row) for goods_row in open_goods(supplier)]


def sent_before(posted: Iterable[str], offered: Iterable[Offer]) -> list[Offer]:
    """What was ticked and is not offered any more: the form was sent twice, or somebody else was quicker."""
    known = {offer.key for offer in offered}
    result = (TICKED.fullmatch(name) for name in posted)
    lost = [(match[1], int(match[2])) for match in result if match and f"{match[1]}-{match[2]}" not in known]
    return [offer for kind, pk in lost for offer in _of_key(kind, pk)]


def _of_key(kind: str, pk: int) -> Iterator[Offer]:
    model: Any = {"goods": OrderLine, "receipt": ReceiptLine, "returned": ReturnedGoods}[kind]
    row = model.objects.filter(pk=pk).first()
    if row is not None:
        line = row if kind == "goods" else row.line
        names = {"order": line.order.number, "place": line.place} if kind == "goods" else {kind: pk}
        yield Offer(f"{kind}-{pk}", short(line), _about(line), Decimal(1), None, names)


def _goods(goods: OpenGoods) -> Offer:
    line = goods.line
    here = goods.came_on is not None and goods.row.owed > 0
    words = f"{short(line)}, {count_in_words(goods.quantity, line.unit)}"
    names = {"order": goods.row.order, "place": line.place}
    return Offer(f"goods-{line.pk}", words, _about(line), goods.quantity, goods.amount, names, here)


def _bad(row: ReceiptLine) -> Offer:
    quantity = row.damaged + row.wrong or row.good
    words = f"{short(row.line)}, {plain(quantity)} came bad"
    amount = row.credit if row.credit is not None else _worth(row.line, quantity)
    return Offer(f"receipt-{row.pk}", words, _about(row.line), quantity, amount, {"receipt": row.pk})


def _back(row: ReturnedGoods) -> Offer:
    words = f"{short(row.line)}, {plain(row.quantity)} went back"
    amount = row.credit_expected if row.credit_expected is not None else _worth(row.line, row.quantity)
    return Offer(f"returned-{row.pk}", words, _about(row.line), row.quantity, amount, {"returned": row.pk})


def _cheaper(line: OrderLine) -> Offer:
    """As much stays billed; what it costs comes down."""
    names = {"order": line.order.number, "place": line.place}
    return Offer(f"goods-{line.pk}", f"{short(line)}, lower price", _about(line), Decimal(1), None, names, False)


def _worth(line: OrderLine, quantity: Decimal) -> Decimal | None:
    return None if line.amount is None else to_cents(line.amount * quantity / line.quantity)


def short(line: OrderLine) -> str:
    return line.what.partition(",")[0].partition(" (")[0]


def _about(line: OrderLine) -> str:
    return f"{line.order.number}, {line.job.title}"
