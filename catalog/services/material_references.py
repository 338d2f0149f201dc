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
    codes = {one.code for one in named}
    kinds = dict(Material.objects.filter(code__in=codes).values_list("code", "kind"))
    return [DocumentProblem(one.path, reason) for one in named if (reason := _wrong(one, kinds))]


def check_references(named: Iterable[MaterialRef]) -> None:
    complaints = complaints_about(named)
    if complaints:
        raise DocumentError(complaints)


def _wrong(one: MaterialRef, kinds: dict[str, str]) -> str:
    kind = kinds.get(one.code)
    if kind is None:
        return f'"{one.code}" is not a material of the catalog; add it there, or give the code of one that is'
    if one.kind and kind != one.kind:
        return f'"{one.code}" is {KINDS[kind].lower()}, and {KINDS[one.kind].lower()} is needed here'
    return ""
