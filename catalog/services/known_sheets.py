"""Every sheet there is, by the name in its address; rooms above the catalog add theirs."""

from collections.abc import Callable
from dataclasses import dataclass

from catalog.services.csv_export import export_csv
from catalog.services.csv_import import apply_csv, preview_csv
from catalog.services.sheets import lead_terms, suppliers
from catalog.services.sheets.previews import Preview


@dataclass(frozen=True)
class Sheet:
    """says: what a row of it is. apply: takes the file, its hash, and the hash of what was previewed."""

    label: str
    says: str
    export: Callable[[], bytes]
    preview: Callable[[bytes], Preview]
    apply: Callable[[bytes, str, str], Preview]


MATERIALS = "materials"
SHEETS: dict[str, Sheet] = {
    MATERIALS: Sheet(
        "Materials",
        "A row for each way of buying each material, with its latest price and each figure beside its source. "
        "A column left out changes nothing.",
        export_csv,
        preview_csv,
        apply_csv,
    ),
    "suppliers": Sheet(
        "Suppliers",
        "A row a supplier, with its order terms; further rows for further closed days. "
        "A column left out changes nothing.",
        suppliers.export,
        suppliers.preview,
        suppliers.apply,
    ),
    "lead-terms": Sheet(
        "Lead times",
        "A row for each lead time a supplier gave; new rows are added.",
        lead_terms.export,
        lead_terms.preview,
        lead_terms.apply,
    ),
}
