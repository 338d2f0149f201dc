"""Days off, of the firm and of suppliers: listed, added and taken away one at a time."""

from typing import Any

from catalog.core.ground.workdays import Closure
from quoting.platform.pages.declared_fields import form_of


class ClosureForm(form_of(Closure, "first", "last", "reason")):
    def entries(self) -> dict[str, Any]:
        document: dict[str, Any] = super().entries()
        return document if "last" in document or "first" not in document else document | {"last": document["first"]}
