"""The lead-time record as a sheet: what orders taught here, and what was brought in from before.

The file is the whole record: what was brought in before and is not in it is taken away. Rows of orders placed here are
known again and stay as they are.
"""

from collections import Counter
from datetime import date
from typing import Any

from django.db import transaction

from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.leads.lead_record import MAX_ACTUAL_WORKDAYS, MAX_QUOTED_WORKDAYS, LeadReceipt
from catalog.models import Material, Supplier
from catalog.services.csv_reading import LineError, Row, SheetError, read_sheet
from catalog.services.csv_writing import write_sheet
from catalog.services.sheets.previews import Preview, digest, refuse_unseen, refused, sha256_of
from jobs.deliveries.models import EarlierLead
from jobs.deliveries.services.lead_record import own_receipts
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.formatting import day_words

COLUMNS = ("supplier", "material", "ordered_on", "received_on", "quoted_workdays", "actual_workdays")
NEEDED = tuple(column for column in COLUMNS if column != "ordered_on")


def export() -> bytes:
    receipts = [*_own(), *(row.to_core() for row in EarlierLead.objects.all())]
    rows = sorted(map(_cells, receipts), key=lambda cells: [cells["received_on"], *map(str, cells.values())])
    return write_sheet(COLUMNS, rows)


def preview(content: bytes) -> Preview:
    """What the file would add, take away and leave, and every error by its line. Stores nothing."""
    try:
        rows = read_sheet(content, COLUMNS, NEEDED)
    except SheetError as error:
        return refused(content, [error.error])
    errors: list[LineError] = []
    suppliers, materials = (set(model.objects.values_list("code", flat=True)) for model in (Supplier, Material))
    today = day_at_the_firm(clock.now())
    read = [_read(row, suppliers, materials, today, errors) for row in rows]
    if errors:
        return refused(content, errors)
    wanted = Counter(receipt for receipt in read if receipt is not None)
    wanted_before = wanted - Counter(_own())
    before = Counter(row.to_core() for row in EarlierLead.objects.all())
    added, removed = list((wanted_before - before).elements()), list((before - wanted_before).elements())
    unchanged = (wanted - Counter(added)).elements()
    return Preview(
        sha256_of(content),
        tuple(map(_words, added)),
        (),
        tuple(map(_words, unchanged)),
        (),
        digest([[_cells(receipt) for receipt in some] for some in (added, removed)]),
        (added, removed),
        tuple(map(_words, removed)),
    )


@transaction.atomic
def apply(content: bytes, sha256: str, plan_sha256: str = "") -> Preview:
    """Do what was previewed: this very file, all of it or nothing."""
    list(EarlierLead.objects.order_by("pk").select_for_update().values_list("pk"))
    plan = preview(content)
    refuse_unseen(plan, sha256, plan_sha256)
    added, removed = plan.wanted
    for receipt in removed:
        row = EarlierLead.objects.filter(**_figures(receipt)).first()
        if row is not None:
            row.delete()
    for receipt in added:
        EarlierLead.objects.create(**_figures(receipt))
    return plan


def _own() -> list[LeadReceipt]:
    return [receipt for receipt in own_receipts(day_at_the_firm(clock.now())) if not receipt.is_open]


def _read(
    row: Row, suppliers: set[str], materials: set[str], today: date, errors: list[LineError]
) -> LeadReceipt | None:
    reader = Reader({name: cell for name, cell in row.cells.items() if cell})
    try:
        supplier, material = _known(reader, "supplier", suppliers), _known(reader, "material", materials)
        received_on, ordered_on = reader.day("received_on"), reader.optional_day("ordered_on")
        quoted = reader.whole("quoted_workdays", 1, MAX_QUOTED_WORKDAYS)
        actual = reader.whole("actual_workdays", 0, MAX_ACTUAL_WORKDAYS)
        reader.finish()
        if received_on > today:
            raise reader.error("received_on", f"{day_words(received_on)} has not come yet; today is {day_words(today)}")
        if ordered_on is not None and ordered_on > received_on:
            raise reader.error(
                "ordered_on", f"{day_words(ordered_on)} lies after {day_words(received_on)}, when it came"
            )
    except DocumentError as error:
        errors.extend(LineError(row.line, complaint.path, complaint.reason) for complaint in error.complaints)
        return None
    return LeadReceipt(quoted, actual, received_on, supplier, material, ordered_on=ordered_on)


def _known(reader: Reader, name: str, codes: set[str]) -> str:
    code = reader.text(name, longest=60)
    if code not in codes:
        raise reader.error(name, f'"{code}" is no {name} of the catalog')
    return code


def _figures(receipt: LeadReceipt) -> dict[str, Any]:
    return {
        "supplier_id": receipt.supplier,
        "material_id": receipt.material,
        "ordered_on": receipt.ordered_on,
        "received_on": receipt.received_on,
        "quoted_workdays": receipt.quoted_workdays,
        "actual_workdays": receipt.actual_workdays,
    }


def _cells(receipt: LeadReceipt) -> dict[str, Any]:
    return {
        "supplier": receipt.supplier,
        "material": receipt.material,
        "ordered_on": receipt.ordered_on.isoformat() if receipt.ordered_on else None,
        "received_on": receipt.received_on.isoformat(),
        "quoted_workdays": receipt.quoted_workdays,
        "actual_workdays": receipt.actual_workdays,
    }


def _words(receipt: LeadReceipt) -> str:
    day, days = receipt.received_on.isoformat(), receipt.actual_workdays
    return f"{receipt.material} of {day}: {days} days for {receipt.quoted_workdays} quoted"
