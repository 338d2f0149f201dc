"""Days off, of the firm and of suppliers: listed, added and taken away one at a time."""

from typing import Any

from quoting.platform.pages.entry_form import EntryForm, day, text


class ClosureForm(EntryForm):
    first = day("First day closed")
    last = day("Last day closed", "Leave it empty for a single day.")
    reason = text("Why", "Such as: public holiday, summer shutdown.", longest=200)

    def entries(self) -> dict[str, Any]:
        document = super().entries()
        return document if "last" in document or "first" not in document else document | {"last": document["first"]}
