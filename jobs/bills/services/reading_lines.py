"""One line of a bill as somebody enters it: matched to an order line, settling what came bad, or of a job by itself."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated, Any

from catalog.core.ground.declared import As, Money, Number, Stripped, Text, Whole, read
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.money import to_cents
from catalog.core.ground.plain_text import money, plain
from catalog.core.ground.refusal import EntryError
from catalog.models import Supplier
from jobs.bills.models import BillKind, Category
from jobs.bills.services.bill_rows import category_of, tag_of_line
from jobs.core.costs.tags import TAG_MEANING, read_tag
from jobs.deliveries.models import ReceiptLine, ReturnedGoods
from jobs.jobs.models import Job
from jobs.orders.models import OrderLine
from quoting.platform.models.bounds import MAX_MONEY
from quoting.platform.models.columns import quantized

MOST = "1000000"
MAX_PRICE = "10000000"
MAX_ID = 10**15
OWN = (Category.MATERIALS, Category.LABOUR, Category.SUBCONTRACT, Category.OTHER)
_WITH_ORDER = ("order", "job", "material")


@dataclass(frozen=True)
class MoneyKept(Money):
    """As much as a row can keep."""

    def read(self, reader: Reader, name: str) -> Decimal:
        amount = super().read(reader, name)
        if amount > MAX_MONEY:
            raise reader.error(name, f"{money(amount)} is too large; an amount is at most {money(MAX_MONEY)}")
        return amount


@dataclass(frozen=True)
class NewBillLine:
    """Matched to a line of an order by order and place, or of a job with a category; without either it is for no job.

    A credit names the receipt or the return it settles. unit_price or amount, or both where they agree.
    """

    order: Annotated[str, Stripped(20), As(example="O-0007")] = ""
    place: Annotated[int | None, Whole(0, 5_000), "Of the line on its order."] = None
    job: Annotated[str, Stripped(60), As(example="J-0201")] = ""
    category: Annotated[str, Stripped(200), f"One of {', '.join((*OWN, Category.OVERHEAD))}."] = ""
    item: Annotated[str, Stripped(200)] = ""
    what: Annotated[str, Stripped(500)] = ""
    quantity: Annotated[Decimal | None, Number(high=MOST)] = None
    unit_price: Annotated[Decimal | None, Number(high=MAX_PRICE)] = None
    amount: Annotated[Decimal | None, MoneyKept()] = None
    tag: Annotated[str, Text(40), TAG_MEANING, As(example="rework")] = ""
    receipt: Annotated[int | None, Whole(1, MAX_ID)] = None
    returned: Annotated[int | None, Whole(1, MAX_ID)] = None


@dataclass(frozen=True)
class LineEntry:
    """quantity, amount: as printed. What a credit settles stands in receipt or returned."""

    job: Job | None
    category: str
    item: str
    what: str
    quantity: Decimal
    unit_price: Decimal
    amount: Decimal
    tag: str
    order_line: OrderLine | None = None
    receipt: ReceiptLine | None = None
    returned: ReturnedGoods | None = None

    @property
    def is_price_alone(self) -> bool:
        """Of a credit: nothing came bad or went back, so that as much is billed as before."""
        return self.order_line is not None and self.receipt is None and self.returned is None

    def counts(self, sign: int) -> Decimal:
        """How much of it counts as billed."""
        return Decimal(0) if sign < 0 and self.is_price_alone else self.quantity * sign

    def said(self, sign: int) -> tuple[Any, ...]:
        keys = (self.order_line, self.receipt, self.returned)
        about = (self.job.pk if self.job else None, self.category, self.item, self.what)
        return (*about, self.counts(sign), self.amount * sign, self.tag, *(key.pk if key else None for key in keys))


def read_line(reader: Reader, supplier: Supplier | None, kind: str) -> LineEntry:
    sent = read(NewBillLine, reader)
    receipt, returned = _settled(sent, reader, supplier, kind)
    named = receipt or returned
    line = _order_line(sent, reader, supplier, named.line if named else None)
    about = _of_order(sent, reader, line) if line else _of_its_own(sent, reader)
    if line and sent.quantity is None:
        raise reader.error("quantity", "is missing")
    quantity = quantized(Decimal(1) if sent.quantity is None else sent.quantity)
    if not quantity:
        raise reader.error("quantity", "0 is not a quantity; it is more than zero")
    unit_price, amount = _price(sent, reader, quantity)
    tag = _tag(sent, reader)
    return LineEntry(
        **about,
        quantity=quantity,
        unit_price=unit_price,
        amount=amount,
        tag=(line and tag_of_line(line)) or tag,
        order_line=line,
        receipt=receipt,
        returned=returned,
    )


def _settled(
    sent: NewBillLine, reader: Reader, supplier: Supplier | None, kind: str
) -> tuple[ReceiptLine | None, ReturnedGoods | None]:
    ids = {"receipt": sent.receipt, "returned": sent.returned}
    named = [name for name, pk in ids.items() if pk is not None]
    if not named:
        return None, None
    if kind != BillKind.CREDIT:
        raise reader.error(named[0], "is settled by a credit; this is a bill")
    if len(named) > 1:
        raise reader.error("returned", "is named beside a receipt; a line settles one of them")
    rows: Any = (ReceiptLine if named[0] == "receipt" else ReturnedGoods).objects
    row = rows.select_related(*(f"line__{part}" for part in _WITH_ORDER)).filter(pk=ids[named[0]]).first()
    if row is None or supplier is None or row.line.order.supplier_id != supplier.code:
        raise reader.error(named[0], f"{ids[named[0]]} is nothing of this supplier's; choose one of its own")
    return (row, None) if named[0] == "receipt" else (None, row)


def _order_line(
    sent: NewBillLine, reader: Reader, supplier: Supplier | None, named: OrderLine | None
) -> OrderLine | None:
    number, place = sent.order, sent.place
    if not number:
        return named
    rows = OrderLine.objects.select_related(*_WITH_ORDER).filter(order__number=number, order__placed_on__isnull=False)
    line = rows.filter(place=place).first()
    if line is None:
        raise reader.error("place", f"{place} is not a line of a placed order {number[:20]}")
    if supplier is None or line.order.supplier_id != supplier.code:
        raise reader.error("order", f"{number} went to {line.order.supplier}; a bill matches its own supplier's orders")
    if named is not None and named.pk != line.pk:
        raise reader.error("order", f"{number} is not what the credit settles; leave it empty")
    return line


def _of_order(sent: NewBillLine, reader: Reader, line: OrderLine) -> dict[str, Any]:
    """What the order line says already may be said once more, and not otherwise."""
    document = {
        "job": line.job,
        "category": category_of(line.material),
        "item": line.material_id,
        "what": line.what,
    }
    for name, known in (("job", line.job.key), ("item", line.material_id), ("category", document["category"])):
        given = getattr(sent, name)
        if given and given != known:
            raise reader.error(name, f'"{given[:40]}" is not what the order says: {known}; leave it empty')
    return document


def _of_its_own(sent: NewBillLine, reader: Reader) -> dict[str, Any]:
    key, what = sent.job, sent.what
    job = Job.objects.filter(key=key).first() if key else None
    if key and job is None:
        raise reader.error("job", f'"{key[:40]}" is not a job; choose one, or leave it empty for what is not for a job')
    if job is None:
        category = reader.choice("category", (Category.OVERHEAD.value,), Category.OVERHEAD.value)
    else:
        category = reader.choice("category", tuple(pair.value for pair in OWN))
    if not what:
        raise reader.error("what", "must not be empty" if reader.has("what") else "is missing")
    return {
        "job": job,
        "category": category,
        "item": sent.item or what[:200],
        "what": what,
    }


def _price(sent: NewBillLine, reader: Reader, quantity: Decimal) -> tuple[Decimal, Decimal]:
    """Of one, and of all; either says the other."""
    unit, amount = sent.unit_price, sent.amount
    if unit is None and amount is None:
        raise reader.error("amount", "is missing; say what the line comes to")
    if unit is None:
        unit = amount / quantity  # type: ignore[operator]
        if unit > Decimal(MAX_PRICE):
            raise reader.error("quantity", f"{plain(quantity)} makes one cost {money(unit)}, more than {MAX_PRICE}")
        return quantized(unit), amount  # type: ignore[return-value]
    together = unit * quantity
    if together > MAX_MONEY:
        raise reader.error("amount", f"{plain(quantity)} at {plain(unit)} is more than {money(MAX_MONEY)}")
    if amount is not None and to_cents(together) != amount:
        message = f"{money(amount)} is not {plain(quantity)} at {plain(unit)}, which is {money(to_cents(together))}"
        raise reader.error("amount", message)
    return quantized(unit), to_cents(together)


def _tag(sent: NewBillLine, reader: Reader) -> str:
    try:
        return read_tag(sent.tag)
    except EntryError as error:
        raise reader.error("tag", error.reason) from error
