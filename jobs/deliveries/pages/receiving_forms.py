"""What is entered of a delivery: large fields, filled with a glove on; what is left empty did not come."""

import uuid
from typing import Any

from django import forms
from django.http import HttpRequest, QueryDict

from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.core.ground.plain_text import plain
from jobs.deliveries.services.due_deliveries import DueLine
from jobs.orders.models import Order
from quoting.platform.pages.entry_form import EntryForm, day, text
from quoting.platform.pages.kept_form import key_sent

SENT_BEFORE = (
    "This form has checked in a delivery of the order before, with other figures. If that one was typed wrong, have "
    "the office correct it; if this is another delivery, send it again."
)


class DeliveryForm(EntryForm):
    received_on = day("Came on")
    note = text("About the whole delivery", "Such as: left in the yard, packing torn.", rows=2)


class CameForm(EntryForm):
    good = text("Good", longest=20)
    damaged = text("Damaged", longest=20)
    wrong = text("Wrong", longest=20)
    note = text("What is wrong with it", longest=500)
    photo = forms.FileField(
        label="Photo",
        help_text="A JPEG or PNG of at most 10 MB.",
        widget=forms.ClearableFileInput(attrs={"accept": "image/jpeg,image/png"}),
    )

    def __init__(self, data: QueryDict | None, files: Any, due: DueLine, pieces: str, where: str) -> None:
        super().__init__(data, prefix=f"line-{due.line.place}")
        self.files, self.due, self.pieces, self.where = files or {}, due, pieces, where
        for name in ("good", "damaged", "wrong"):
            self.fields[name].widget.attrs |= {"inputmode": "decimal", "autocomplete": "off"}

    @property
    def open_words(self) -> str:
        return f"{plain(self.due.state.open)} {self.due.line.unit}"

    def came(self) -> dict[str, Any] | None:
        entries = {name: one for name, one in self.entries().items() if name != "photo"}
        return {"place": self.due.line.place, **entries} if entries else None

    def photos(self) -> list[bytes]:
        file = self.cleaned_data.get("photo")
        return [file.read()] if file else []


class CheckIn:
    """The page of one delivery as typed. seen: how many deliveries of the order the page knows."""

    def __init__(self, request: HttpRequest, order: Order, rows: list[tuple[DueLine, str, str]], initial: Any) -> None:
        data = request.POST if request.method == "POST" else None
        self.order, self.told = order, list[str]()
        self.head = DeliveryForm(data, initial)
        self.lines = [CameForm(data, request.FILES, *row) for row in rows]
        self.request_key = key_sent(request) or uuid.uuid4().hex
        self.seen = _count(request.POST.get("seen_deliveries", "")) if data is not None else order.deliveries.count()

    def is_valid(self) -> bool:
        return all([self.head.is_valid(), *[one.is_valid() for one in self.lines]])

    def document(self) -> dict[str, Any]:
        return {
            **self.head.entries(),
            "request_key": self.request_key,
            "seen_deliveries": self.seen,
            "lines": [came for one in self.lines if (came := one.came())],
        }

    def photos(self) -> dict[int, list[bytes]]:
        return {one.due.line.place: found for one in self.lines if (found := one.photos())}

    def refuse_lonely_photos(self) -> None:
        """A photo is of something that came: without a figure nobody knows of how much."""
        for one in self.lines:
            if one.cleaned_data.get("photo") and one.came() is None:
                one.add_error("good", "Say how much of it came; there is a photo of it and no figure.")

    def complain(self, error: DocumentError) -> None:
        sent = [one for one in self.lines if one.came()]
        for complaint in error.complaints:
            if complaint.path == "request_key":
                # Told once, as of a delivery nobody had seen: sent again it goes out under a key of its own.
                self.request_key, self.seen = uuid.uuid4().hex, self.order.deliveries.count()
                self.told.append(SENT_BEFORE)
                continue
            head, _, leaf = complaint.path.partition(".")
            place = _index(head)
            if leaf == "photo" and place is not None:
                at = [one for one in self.lines if one.due.line.place == place]
            else:
                at = sent[place : place + 1] if place is not None else []
            if at:
                at[0].complain(DocumentError([DocumentProblem(leaf or "good", complaint.reason)]))
            elif complaint.path in self.head.fields:
                self.head.complain(DocumentError([complaint]))
            else:
                self.told.append(f"{complaint.reason[:1].upper()}{complaint.reason[1:]}.")


def _index(head: str) -> int | None:
    inner = head.removeprefix("lines[").removesuffix("]")
    return int(inner) if head.startswith("lines[") and inner.isdigit() else None


def _count(typed: str) -> int:
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 5 else 0
