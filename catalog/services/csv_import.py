from django.db import transaction

from catalog.core.ground.declared import write
from catalog.models import Supplier
from catalog.services.book import materials_with_parts
from catalog.services.changes import counted_once
from catalog.services.csv_materials import wanted_material
from catalog.services.csv_reading import LineError, SheetError, by_code, read_sheet
from catalog.services.materials import store_materials
from catalog.services.sheets.previews import Preview, compared, refuse_unseen, refused
from catalog.services.typed_money import firm_marks


def preview_csv(content: bytes) -> Preview:
    """What the file would add, change and leave, and every error by its line. Stores nothing."""
    try:
        rows = read_sheet(content)
    except SheetError as error:
        return refused(content, [error.error])
    suppliers = set(Supplier.objects.values_list("code", flat=True))
    errors: list[LineError] = []
    codes = by_code(rows, errors)
    present = {row.code: write(row.entry()) for row in materials_with_parts().filter(code__in=codes)}
    marks = firm_marks()
    wanted = [wanted_material(code, those, present.get(code), suppliers, marks) for code, those in codes.items()]
    errors += [error for entry in wanted for error in entry.errors]
    return refused(content, errors) if errors else compared(content, wanted, present)


@transaction.atomic
@counted_once()
def apply_csv(content: bytes, sha256: str, plan_sha256: str = "") -> Preview:
    """Do what was previewed: this very file, all of it or nothing.

    With `plan_sha256` also only as long as the catalog makes it come to the same changes.
    """
    preview = preview_csv(content)
    refuse_unseen(preview, sha256, plan_sha256)
    store_materials([entry.material for entry in preview.wanted if entry.material is not None])
    return preview
