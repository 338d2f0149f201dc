"""The firm's stock: entered, set aside for a job, put back, taken out. Nothing is promised twice."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.declared import Length, Money, Text, Whole, read
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import EntryError, Refused
from catalog.core.ground.units import BareLengthUnit
from catalog.models import Material
from jobs.core.takeoff.cut_list import OnHand
from jobs.jobs.models import Job
from jobs.jobs.services.versions import next_version
from jobs.stock.models import Stock
from quoting.platform.models.columns import quantized_or_none

MAX_OF_A_ROW = 1000
SAME = ("material_id", "length_mm", "pack", "unit_cost", "note")
"""Rows of one owner with these alike are one row."""


@dataclass(frozen=True)
class NewStock:
    """A whole pack by its code; else an off-cut by its length."""

    material: Annotated[str, Text(longest=60)]
    count: Annotated[int, Whole(1, MAX_OF_A_ROW)]
    pack: Annotated[str, Text(longest=60), "Code of a whole one."] = ""
    length_mm: Annotated[float | None, Length(), "Of an off-cut."] = None
    unit_cost: Annotated[Decimal | None, Money()] = None
    note: Annotated[str, Text(longest=200)] = ""


def _on_hand(asked: NewStock) -> OnHand:
    """Raises EntryError."""
    material, length_mm = Material.objects.filter(code=asked.material).first(), asked.length_mm
    if material is None:
        raise EntryError("material", f'"{asked.material}" is not a material in the catalog')
    pack = material.packs.filter(code=asked.pack).first() if asked.pack else None
    if asked.pack and pack is None:
        raise EntryError("pack", f'"{asked.pack}" is not a pack of {material.name}')
    if pack is not None and length_mm is not None:
        raise EntryError("length", "is of an off-cut alone; leave it out where the whole pack is there")
    if pack is not None and pack.length_mm is not None and pack.width_mm is None:
        length_mm = float(pack.length_mm)
    return OnHand(asked.material, length_mm, asked.count, asked.pack, asked.unit_cost)


@transaction.atomic
def enter_stock(document: dict[str, Any], bare_unit: BareLengthUnit = "in") -> Stock:
    """On the shelf, as a NewStock. Raises DocumentError naming the entry."""
    reader = Reader(document, bare_unit=bare_unit)
    asked = read(NewStock, reader)
    try:
        return put_on_shelf(_on_hand(asked), asked.note)
    except EntryError as error:
        raise reader.error(error.field, error.reason) from error


def put_on_shelf(pieces: OnHand, note: str) -> Stock:
    return _put(None, pieces.count, _what(pieces, note))


def take_off_shelf(pieces: OnHand, note: str) -> None:
    """What was put there by mistake. Raises Refused where it lies there no more."""
    alike = Stock.objects.select_for_update().filter(job=None, count__gte=pieces.count, **_what(pieces, note))
    row = alike.first()
    if row is None:
        raise Refused(
            f"{pieces.count} of {pieces.material} went to stock and are set aside or used: put the stock right first."
        )
    _take(row, pieces.count)


def _what(pieces: OnHand, note: str) -> dict[str, Any]:
    length_mm = quantized_or_none(pieces.length_mm)
    return dict(zip(SAME, (pieces.material, length_mm, pieces.pack, pieces.unit_cost, note), strict=True))


def _put(job: Job | None, count: int, what: dict[str, Any], by: str = "") -> Stock:
    alike = Stock.objects.select_for_update().filter(job=job, count__lte=MAX_OF_A_ROW - count, **what)
    row = alike.first() or Stock(job=job, count=0, **what)
    row.count += count
    row.set_aside_by_name = by or row.set_aside_by_name
    row.save()
    return row


def held_stock(stock_id: int) -> Stock:
    """Held to the end of the transaction, so that nobody else takes from it meanwhile. Raises Refused."""
    row = Stock.objects.select_for_update(of=("self",)).filter(pk=stock_id).first()
    if row is None:
        raise Refused("It is gone: somebody took it. Open the stock again.")
    return row


def _take(row: Stock, count: int) -> None:
    if not 0 < count <= row.count:
        raise Refused(f"{row.count} are there; say how many of them, from 1 to {row.count}.")
    if count == row.count:
        row.delete()
    else:
        row.count -= count
        row.save()


def _moved(row: Stock) -> dict[str, Any]:
    return {name: getattr(row, name) for name in SAME}


@transaction.atomic
def set_aside(stock_id: int, job: Job, count: int, *, by: str) -> Stock:
    """From the shelf for a job, by name. Raises Refused."""
    row = held_stock(stock_id)
    if row.job_id is not None:
        raise Refused(f"It is set aside for {row.job} already: return it to the shelf first.")
    if job.closed_on is not None:
        raise Refused(f"{job} is closed: nothing is set aside for it.")
    what = _moved(row)
    _take(row, count)
    next_version(job, None)
    moved = _put(job, count, what, by)
    job.forget_parts()
    return moved


@transaction.atomic
def put_back(stock_id: int, count: int) -> Stock:
    """From its job to the shelf. Raises Refused."""
    row = held_stock(stock_id)
    if row.job is None:
        raise Refused("It is on the shelf already.")
    next_version(row.job, None)
    what = _moved(row)
    _take(row, count)
    return _put(None, count, what)


@transaction.atomic
def take_out(stock_id: int, count: int) -> None:
    """Used up, thrown away or counted wrong: it is there no more. Raises Refused."""
    row = held_stock(stock_id)
    if row.job is not None:
        next_version(row.job, None)
    _take(row, count)


def shelf_for(job: Job, materials: set[str]) -> list[Stock]:
    """What lies on the shelf of materials a job takes."""
    return list(Stock.objects.filter(job=None, material__in=materials).select_related("material"))


def whole(typed: str) -> int:
    """A count somebody typed; 0 for what is none."""
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) <= 6 else 0
