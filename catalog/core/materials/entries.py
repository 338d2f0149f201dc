"""What the office keeps of a material and of a supplier beside what the core knows of them."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from catalog.core.ground.declared import As
from catalog.core.materials.specs import Material, Supplier


@dataclass(frozen=True)
class MaterialEntry(Material):
    """A material."""

    active: Annotated[bool, "Offered where a material is chosen; true when not said."] = field(
        default=True, kw_only=True
    )
    note: Annotated[str, "A note for the office.", As(rows=3)] = field(default="", kw_only=True)


@dataclass(frozen=True)
class SupplierEntry(Supplier):
    """Who sells."""

    note: Annotated[str, "A note for the office.", As(rows=3)] = ""
