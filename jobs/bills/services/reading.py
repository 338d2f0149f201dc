"""A bill as somebody enters it: read whole, each wrong entry named by its place."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Any

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import As, Choice, Declared, Items, Stripped, Text, entry_of
from catalog.core.ground.document_reader import DocumentError, Reader, gather
from catalog.core.ground.plain_text import money
from catalog.core.ground.request_keys import RequestKey
from catalog.models import Firm, Supplier
from catalog.services.typed_money import entry_reader
from jobs.bills.models import BillKind
from jobs.bills.services.reading_lines import LineEntry, MoneyKept, NewBillLine, read_line
from jobs.core.costs.bills import NOTHING, left_to_place, number_key
from jobs.deliveries.services.order_events import day_come
from jobs.orders.models import Order
from quoting.platform.people.signatures import Signature

MAX_NUMBER, MAX_SHOP, MAX_NOTE = 60, 200, 300
MAX_LINES = 500


@dataclass(frozen=True, kw_only=True)
class EnteredDraft:
    """As a new bill, under the key of the draft."""

    kind: Annotated[str, Choice(tuple(BillKind.values))] = BillKind.BILL.value
    supplier: Annotated[str, Stripped(60), "Its code; or a shop."] = ""
    shop: Annotated[str, Stripped(MAX_SHOP, one_line=True), "Of a small purchase; or a supplier."] = ""
    number: Annotated[str, Stripped(MAX_NUMBER, one_line=True), As(example="A-771")]
    day: date | None = None
    due: date | None = None
    tax: Annotated[Decimal, MoneyKept()] = NOTHING
    freight: Annotated[Decimal, MoneyKept()] = NOTHING
    freight_order: Annotated[
        str, Stripped(20), "The order the freight is for; those of the lines where it is not said."
    ] = ""
    total: Annotated[Decimal, MoneyKept(), As(example="2036.50")]
    note: Annotated[str, Stripped(MAX_NOTE)] = ""
    currency: Annotated[str | None, Text(), "The firm's own, or it is refused."] = None
    lines: Annotated[tuple[NewBillLine, ...], Items(Declared(NewBillLine), MAX_LINES)] = ()
    accept: Annotated[tuple[str, ...], "Sentences of differences, as the refusal said them."] = ()


@dataclass(frozen=True, kw_only=True)
class NewBill(EnteredDraft):
    """Lines, freight and tax come to the total."""

    request_key: RequestKey


@dataclass(frozen=True)
class BillEntry:
    """Amounts as printed. freight_order: the one the freight is for, where somebody said so. accept: sentences of
    differences somebody stands for."""

    request_key: str
    kind: str
    supplier: Supplier | None
    shop: str
    number: str
    day: date
    due: date | None
    tax: Decimal
    freight: Decimal
    total: Decimal
    note: str
    freight_order: Order | None
    lines: tuple[LineEntry, ...]
    accept: frozenset[str]

    @property
    def number_key(self) -> str:
        return number_key(self.number)

    @property
    def sign(self) -> int:
        return -1 if self.kind == BillKind.CREDIT else 1

    @property
    def seller(self) -> str:
        return self.supplier.name if self.supplier else self.shop

    @property
    def said(self) -> tuple[Any, ...]:
        """By which a bill sent twice is told from another with the same key."""
        seller = (self.supplier.code if self.supplier else None, self.shop)
        figures = (self.day, self.due, self.tax, self.freight, self.total)
        lines = tuple(line.said(self.sign) for line in self.lines)
        return (self.kind, *seller, self.number, *figures, self.note, lines)


def read_bill(document: dict[str, Any], signature: Signature, *, request_key: str = "") -> BillEntry:
    """request_key: of a draft that is entered, whose document says none."""
    reader, result = entry_reader(document), dict[str, Any]()

    def sent(name: str) -> Any:
        return entry_of(NewBill, name).read(reader)

    def stored(name: str, reading: Any) -> Any:
        return lambda: result.__setitem__(name, reading())

    gather(
        (
            stored("request_key", lambda: request_key or sent("request_key")),
            stored("kind", lambda: sent("kind")),
            stored("seller", lambda: _seller(reader, sent("supplier"), sent("shop"))),
            stored("number", lambda: _number(reader, sent("number"))),
            stored("day", lambda: day_come(sent("day"), "day", signature)),
            *(stored(name, lambda name=name: sent(name)) for name in ("due", "tax", "freight", "total", "note")),
            stored("freight_order", lambda: _order(reader, sent("freight_order"))),
            lambda: _refuse_other_currency(reader, sent("currency")),
        )
    )
    supplier, shop = result.pop("seller")
    if result["due"] is not None and result["due"] < result["day"]:
        raise reader.error(
            "due", f"{day_words(result['due'])} is before {day_words(result['day'])}, the day of the bill"
        )
    lines = reader.items("lines", lambda each: read_line(each, supplier, result["kind"]), MAX_LINES)
    accept = frozenset(reader.texts("accept"))
    reader.finish()
    entry = BillEntry(**result, supplier=supplier, shop=shop, lines=lines, accept=accept)
    _refuse_what_is_left(entry)
    return entry


def _seller(reader: Reader, code: str, shop: str) -> tuple[Supplier | None, str]:
    if bool(code) == bool(shop):
        raise reader.error("supplier", "must be named, or the shop of a small purchase; one of the two")
    supplier = Supplier.objects.filter(code=code).first() if code else None
    if code and supplier is None:
        raise reader.error("supplier", f'"{code[:40]}" is not a supplier in the catalog; add it there, or name a shop')
    return supplier, shop


def _number(reader: Reader, number: str) -> str:
    if not number_key(number):
        raise reader.error("number", "must hold a letter or a digit; type it as the bill has it")
    if len(number_key(number)) > MAX_NUMBER:
        raise reader.error("number", f"is longer than {MAX_NUMBER} characters in capitals; type its main part")
    return number


def _order(reader: Reader, number: str) -> Order | None:
    order = Order.objects.filter(number=number, placed_on__isnull=False).first() if number else None
    if number and order is None:
        raise reader.error("freight_order", f'"{number}" is not a placed order; leave it empty for those billed here')
    return order


def _refuse_other_currency(reader: Reader, currency: str | None) -> None:
    ours = Firm.objects.values_list("currency", flat=True).first()
    if currency is not None and currency.strip().upper() != ours:
        raise reader.error("currency", f"{currency[:10]} is another currency; enter what {ours} were paid for it")


def _refuse_what_is_left(entry: BillEntry) -> None:
    left = left_to_place(entry.total, _amounts(entry.lines), entry.freight, entry.tax)
    if left:
        placed, way = entry.total - left, "left to place" if left > 0 else "too much on the lines"
        message = (
            f"{money(abs(left))} is {way}: lines, freight and tax are {money(placed)}, the total {money(entry.total)}"
        )
        raise DocumentError.at("total", message)


def _amounts(lines: Iterable[LineEntry]) -> list[Decimal]:
    return [line.amount for line in lines]
