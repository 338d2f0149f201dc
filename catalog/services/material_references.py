"""Whether the materials and suppliers a document names are in the catalog."""

from collections.abc import Iterable
from typing import NamedTuple

from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.core.materials.specs import KINDS
from catalog.models import Material


class MaterialRef(NamedTuple):
    """A material named in a document: where, its code, and the kind it has to be (empty: any)."""

    path: str
    code: str
    kind: str = ""


def complaints_about(named: Iterable[MaterialRef]) -> list[DocumentProblem]:
    named = list(named)
    codes = {row.code for row in named}
    kinds = dict(Material.objects.filter(code__in=codes).values_list("code", "kind"))
    return [DocumentProblem(row.path, reason) for row in named if (reason := _wrong(row, kinds))]


def check_references(named: Iterable[MaterialRef]) -> None:
    complaints = complaints_about(named)
    if complaints:
        raise DocumentError(complaints)


def _wrong(row: MaterialRef, kinds: dict[str, str]) -> str:
    kind = kinds.get(row.code)
    if kind is None:
        return f'"{row.code}" is not a material in the catalog; add it there, or give the code of one that is'
    if row.kind and kind != row.kind:
        return f'"{row.code}" is {KINDS[kind].lower()}, and {KINDS[row.kind].lower()} is needed here'
    return ""
