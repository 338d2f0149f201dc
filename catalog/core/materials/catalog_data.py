"""The catalog as one value: the firm, its standards, its suppliers and its materials, by code."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from catalog.core.materials.specs import Firm, Material, Supplier
from catalog.core.materials.standards import Standards


@dataclass(frozen=True)
class Catalog:
    """Everything the office keeps. materials, suppliers: by code."""

    firm: Firm
    standards: Standards
    suppliers: Mapping[str, Supplier] = field(default_factory=dict)
    materials: Mapping[str, Material] = field(default_factory=dict)

    def with_more(self, suppliers: tuple[Supplier, ...], materials: tuple[Material, ...]) -> Catalog:
        """The book with these entries added, each standing in for one of the same code.

        >>> from catalog.core.materials.standards import starter_standards
        >>> book = Catalog(Firm("F", "Etc/UTC", "EUR", "metric", 3, 5), starter_standards())
        >>> sorted(book.with_more((Supplier("MILL", "The mill"),), ()).suppliers)
        ['MILL']
        """
        return replace(
            self,
            suppliers={**self.suppliers, **{supplier.code: supplier for supplier in suppliers}},
            materials={**self.materials, **{material.code: material for material in materials}},
        )
