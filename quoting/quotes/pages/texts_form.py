"""What a job's quote says beside the figures: its own sentences, which standing ones it leaves out, its notice."""

from collections.abc import Iterable
from datetime import date
from typing import Any

from django import forms

from quoting.core.quotes.firm_texts import BLOCKS, HEADINGS, FirmTexts
from quoting.platform.pages.entry_form import NOT_ONE, EntryForm, pick, text

Document = dict[str, Any]


class TextsForm(EntryForm):
    """Each line of a box is one sentence of the paper."""

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        for block in BLOCKS:
            self.fields[block] = text(HEADINGS[block], rows=3, longest=20_000)
            self.fields[block].required = False

    def document(self) -> Document:
        lines = {name: str(entry).splitlines() for name, entry in self.entries().items()}
        return {name: [line.strip() for line in result if line.strip()] for name, result in lines.items()}

    @staticmethod
    def offered(document: Document) -> Document:
        return {block: "\n".join(document.get(block) or ()) for block in BLOCKS}


class LeftOutForm(EntryForm):
    """A tick for every standing sentence in force, and for those left out that no longer are."""

    left_out = forms.MultipleChoiceField(
        label="Leave out of this quote",
        widget=forms.CheckboxSelectMultiple,
        error_messages={"invalid_choice": NOT_ONE},
    )

    def __init__(self, *args: Any, texts: FirmTexts, today: date, left_out: Iterable[str] = (), **options: Any) -> None:
        super().__init__(*args, **options)
        self.standing = texts.in_force(today)
        known = [(entry.key, f"{HEADINGS[entry.block]}: {entry.text}") for entry in self.standing]
        gone = [key for key in left_out if key not in {entry.key for entry in self.standing}]
        field = self.fields["left_out"]
        field.choices = [*known, *((key, f"{key} (not in force today)") for key in gone)]  # type: ignore[attr-defined]

    def document(self) -> Document:
        return {"left_out": self.entries().get("left_out", [])}


class NoticeForm(EntryForm):
    place = pick("Place, for its notice", (), "As the firm has entered it. Empty: no notice.")
    language = text("Language", "Its tag, such as en or fr-CA.", longest=40)
    stands_at = {"notice": "place", "pricing.notice": "place"}

    def __init__(self, *args: Any, places: Iterable[str] = (), **options: Any) -> None:
        super().__init__(*args, **options)
        chosen = self.initial.get("place", "")
        names = list(dict.fromkeys([*places, *([chosen] if chosen else [])]))
        self.fields["place"].choices = [("", "no notice"), *((name, name) for name in names)]  # type: ignore[attr-defined]

    def document(self) -> Document:
        result = self.entries()
        return {"notice": {"language": "en", **result} if "place" in result else None}

    @staticmethod
    def offered(document: Document) -> Document:
        return dict(document.get("notice") or {"language": "en"})
