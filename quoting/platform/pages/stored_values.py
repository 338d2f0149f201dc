"""What was stored when a form was opened, so that what somebody else saved meanwhile is not written over unseen."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.db import connection
from django.db.models import Model, QuerySet

from quoting.platform.people.services.sent_forms import last_sent

MAX_CHANGES = 50


@dataclass(frozen=True)
class Stored:
    """values: as the form shows them. row: what they are of; address: of the form. Both tell who changed them."""

    values: Mapping[str, Any]
    row: Model | None = None
    address: str = ""

    def version(self) -> str:
        """A mark for each value, so that the next form can say which of them changed, and the form kept last."""
        marks = [f"{name}-{_mark(value)}" for name, value in self.values.items()]
        return ".".join([*marks, *self._last_sent()])

    def changed_since(self, version: str) -> list[str]:
        """The values that are not those `version` was made from; all of them when it is none of ours."""
        seen = set(version.split("."))
        return [name for name, value in self.values.items() if f"{name}-{_mark(value)}" not in seen]

    def changed_by(self, name: str, version: str) -> str:
        """The history of the row knows; else whoever sent this form since `version`, if anybody did."""
        senders = (who for mark, who in self._last_sent().items() if mark not in version.split("."))
        return self._by_history(name) or next(senders, "") or "Somebody"

    def _last_sent(self) -> dict[str, str]:
        sent = last_sent(self.address) if self.address and not hasattr(self.row, "history") else None
        return {f"sent-{sent.pk}": str(sent.person)} if sent else {}

    def _by_history(self, name: str) -> str:
        """Who gave the row's column the value it has now; who changed the row last when it is no column."""
        if self.row is None or not hasattr(self.row, "history"):
            return ""
        column = f"{name}_id" if hasattr(self.row, f"{name}_id") else name
        who = ""
        for entry in self.row.history.select_related("history_user")[:MAX_CHANGES]:
            if who and (not hasattr(entry, column) or getattr(entry, column) != getattr(self.row, column)):
                break
            who = str(entry.history_user or "The service itself")
        return who


def hold(rows: QuerySet[Any]) -> None:
    """Nobody changes these until the form that was sent is answered; read them after this."""
    if connection.in_atomic_block:
        list(rows.order_by("pk").select_for_update(of=("self",)).values_list("pk"))


def plain(value: Any) -> str:
    """A value as a form sends it."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list | tuple):
        return ", ".join(map(plain, value))
    return "" if value is None else str(value).replace("\r\n", "\n").strip()


def _mark(value: Any) -> str:
    return hashlib.sha256(plain(value).encode("utf-8", "surrogatepass")).hexdigest()[:12]
