"""The lead-time record as a sheet: what orders taught here, and what was brought in from before.

The file is the whole record: what was brought in before and is not in it is taken away. Rows of orders placed here are
known again and stay as they are.
"""

from collections import Counter
from datetime import date

from django.db import transaction

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.leads.lead_record import LeadReceipt
from catalog.models import Material, Supplier
from catalog.services.csv_reading import LineError, Row, SheetError, read_sheet
from catalog.services.csv_writing import write_sheet
from catalog.services.sheets.previews import Preview, digest, refuse_unseen, refused, sha256_of
from jobs.deliveries.models import EarlierLead
from jobs.deliveries.services.lead_record import own_receipts
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.formatting import day_words
from quoting.platform.models.core_values import column_values

COLUMNS = ("supplier", "material", "ordered_on", "received_on", "quoted_workdays", "actual_workdays")
NEEDED = tuple(column for column in COLUMNS if column != "ordered_on")


def export() -> bytes:
    receipts = [*_own(), *(row.to_core() for row in EarlierLead.objects.all())]
    rows = [write(receipt) for receipt in receipts]
    in_order = sorted(rows, key=lambda cells: [cells["received_on"], *(str(cells[name]) for name in COLUMNS)])
    return write_sheet(COLUMNS, in_order)


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
        digest([[write(receipt) for receipt in some] for some in (added, removed)]),
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
        row = EarlierLead.objects.filter(**column_values(receipt, EarlierLead)).first()
        if row is not None:
            row.delete()
    for receipt in added:
        EarlierLead.objects.create(**column_values(receipt, EarlierLead))
    return plan


def _own() -> list[LeadReceipt]:
    return [receipt for receipt in own_receipts(day_at_the_firm(clock.now())) if not receipt.is_open]


def _read(
    row: Row, suppliers: set[str], materials: set[str], today: date, errors: list[LineError]
) -> LeadReceipt | None:
    try:
        receipt = read(LeadReceipt, Reader({name: cell for name, cell in row.cells.items() if cell}))
        _refuse_unknown("supplier", receipt.supplier, suppliers)
        _refuse_unknown("material", receipt.material, materials)
        came = day_words(receipt.received_on)
        if receipt.received_on > today:
            raise DocumentError.at("received_on", f"{came} has not come yet; today is {day_words(today)}")
        if receipt.ordered_on is not None and receipt.ordered_on > receipt.received_on:
            raise DocumentError.at("ordered_on", f"{day_words(receipt.ordered_on)} is after {came}, when it came")
    except DocumentError as error:
        errors.extend(LineError(row.line, complaint.path, complaint.reason) for complaint in error.complaints)
        return None
    return receipt


def _refuse_unknown(name: str, code: str, codes: set[str]) -> None:
    if code not in codes:
        raise DocumentError.at(name, f'"{code}" is not a {name} in the catalog')


def _words(receipt: LeadReceipt) -> str:
    day, days = receipt.received_on.isoformat(), receipt.actual_workdays
    return f"{receipt.material} of {day}: {days} days for {receipt.quoted_workdays} quoted"
