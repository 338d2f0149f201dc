"""On which standards from the record a quotation that is out rests: as it was issued, whatever was accepted since."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from catalog.core.materials.standards import STANDARD_SPECS
from catalog.models import Material
from quoting.core.money.closed_jobs import WASTE
from quoting.quotes.models import QuoteRevision, RevisionState
from quoting.quotes.services.snapshots import snapshot_of
from quoting.record.models import LearntStandard


@dataclass(frozen=True)
class RestsOn:
    """value: in the quotation. learnt: what was taken from the record last. is_former: the quotation has what was
    before."""

    label: str
    value: Decimal
    learnt: LearntStandard

    @property
    def is_former(self) -> bool:
        return self.value != self.learnt.value


def learnt_standards() -> list[LearntStandard]:
    """The last of each, newest first."""
    standards: dict[str, LearntStandard] = {}
    for row in LearntStandard.objects.all():
        standards.setdefault(row.standard, row)
    return list(standards.values())


def rests_on(revision: QuoteRevision, learnt: Iterable[LearntStandard] | None = None) -> list[RestsOn]:
    """Raises SnapshotChanged."""
    rows = learnt_standards() if learnt is None else list(learnt)
    if not rows:
        return []
    names, figures = labels(rows), _figures(snapshot_of(revision)["job_file"])
    rests = ((row, figures.get(row.standard)) for row in rows)
    return [
        RestsOn(names[row.standard], value, row)
        for row, value in rests
        if value is not None and (value == row.value or revision.issued_at < row.accepted_at)
    ]


def open_quotes() -> list[tuple[QuoteRevision, list[RestsOn]]]:
    """Quotations that wait for an answer and rest on a figure of the record, or on the one before it."""
    learnt = learnt_standards()
    rows = QuoteRevision.objects.filter(state=RevisionState.ISSUED).select_related("quote__job") if learnt else ()
    quotes = ((row, rests_on(row, learnt)) for row in rows)
    return [(row, on) for row, on in quotes if on]


def labels(rows: Iterable[LearntStandard]) -> dict[str, str]:
    codes = [row.standard.removeprefix(WASTE) for row in rows if row.standard.startswith(WASTE)]
    names = dict(Material.objects.filter(code__in=codes).values_list("code", "name")) if codes else {}
    wastes = {f"{WASTE}{code}": f"Waste of {name}" for code, name in names.items()}
    return {row.standard: wastes.get(row.standard) or _label(row.standard) for row in rows}


def _label(standard: str) -> str:
    return STANDARD_SPECS[standard].label if standard in STANDARD_SPECS else standard


def _figures(job_file: dict[str, Any]) -> dict[str, Decimal]:
    standards = job_file.get("firm", {}).get("standards", {})
    figures = {name: Decimal(fact["value"].split()[0]) for name, fact in standards.items()}
    for material in job_file.get("materials", ()):
        if material.get("waste") is not None:
            figures[f"{WASTE}{material['code']}"] = Decimal(str(material["waste"]))
    return figures
