"""Rows of fields that fill a list of a document. An empty row is not an item."""

import re
from collections.abc import Sequence
from typing import Any

from django.http import QueryDict

from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from quoting.platform.pages.entry_form import EntryForm, sentence

MAX_ROWS = 200


class EntryRows:
    """A list of the document under `name`; spare: empty rows offered beyond those filled. label: of one row."""

    def __init__(
        self,
        form_class: type[EntryForm],
        name: str,
        data: QueryDict | None,
        offered: Sequence[dict[str, Any]],
        *,
        spare: int = 2,
        more: bool = False,
        options: dict[str, Any] | None = None,
        label: str = "Row",
    ) -> None:
        self.name, self.label, self.is_bound, self.faults = name, label, data is not None, list[str]()
        filled = len(offered) if data is None else self._count(data)
        count = min(filled + (spare if data is None or more else 0), MAX_ROWS)
        self.forms = [
            form_class(
                data,
                initial=offered[place] if data is None and place < len(offered) else {},
                prefix=f"{name}-{place}",
                **(options or {}),
            )
            for place in range(count)
        ]
        # What the browser adds rows from.
        self.blank = form_class(prefix=f"{name}-__n__", **(options or {}))
        self.blank.is_blank = True

    def _count(self, data: QueryDict) -> int:
        result = (re.match(rf"{re.escape(self.name)}-(\d{{1,3}})-", name) for name in data)
        return min(max((int(match[1]) + 1 for match in result if match), default=0), MAX_ROWS)

    def is_valid(self) -> bool:
        # Every form is asked, so that every fault is shown.
        answers = [form.is_valid() for form in self.forms]
        return all(answers)

    @property
    def with_blank(self) -> list[EntryForm]:
        """The rows as a page shows them, last the one that is no row yet."""
        return [*self.forms, self.blank]

    @property
    def filled(self) -> list[EntryForm]:
        return [form for form in self.forms if form.is_filled()]

    def entries(self) -> list[dict[str, Any]]:
        return [form.entries() for form in self.filled]

    def takes(self, complaint: DocumentProblem) -> bool:
        """Show the complaint at its row when it is about this list; False when it is not."""
        match = re.match(rf"{re.escape(self.name)}(?:\[(\d+)\])?(?:\.|$)(.*)", complaint.path)
        if match is None:
            return False
        filled = self.filled
        if match[1] is not None and int(match[1]) < len(filled):
            filled[int(match[1])].complain(DocumentError([DocumentProblem(match[2], complaint.reason)]))
        else:
            self.faults.append(sentence("", DocumentProblem("", complaint.reason)))
        return True

    @property
    def has_errors(self) -> bool:
        return self.is_bound and (bool(self.faults) or any(form.errors for form in self.forms))
