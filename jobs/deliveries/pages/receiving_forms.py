"""What is entered of a delivery: large fields, filled with a glove on; what is left empty did not come."""

import uuid
from collections.abc import Iterable
from typing import Any

from django import forms
from django.http import HttpRequest, QueryDict

from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.core.ground.plain_text import plain
from catalog.core.ground.units import System
from jobs.deliveries.services.due_deliveries import DueLine
from jobs.deliveries.services.received_pieces import STATES
from jobs.orders.models import Order
from jobs.orders.pages.shown import piece_place, piece_words
from jobs.orders.services.pieces import PieceCame
from quoting.platform.pages.entry_form import EntryForm, day, text
from quoting.platform.pages.kept_form import key_sent

PIECE = "piece-"
STATE_CHOICES = [(name, name.capitalize()) for name in STATES]
SENT_BEFORE = (
    "This form has checked in a delivery of the order before, with other figures. If that one was typed wrong, have "
    "the office correct it; if this is another delivery, send it again."
)


class DeliveryForm(EntryForm):
    received_on = day("Came on")
    note = text("About the whole delivery", "Such as: left in the yard, packing torn.", rows=2)


class CameForm(EntryForm):
    """What came of one line: by count, or of each of its pieces."""

    good = text("Good", longest=20)
    damaged = text("Damaged", longest=20)
    wrong = text("Wrong", longest=20)
    more = text("More good pieces than ordered", longest=20)
    note = text("What is wrong with it", longest=500)
    photo = forms.FileField(
        label="Photo",
        help_text="A JPEG or PNG of at most 10 MB.",
        widget=forms.ClearableFileInput(attrs={"accept": "image/jpeg,image/png"}),
    )

    def __init__(
        self, data: QueryDict | None, files: Any, due: DueLine, pieces: str, where: str, system: System
    ) -> None:
        super().__init__(data, prefix=f"line-{due.line.place}")
        self.files, self.due, self.pieces, self.where = files or {}, due, pieces, where
        for name in STATES if due.pieces else ("more",):
            del self.fields[name]
        for name in ("more",) if due.pieces else STATES:
            self.fields[name].widget.attrs |= {"inputmode": "decimal", "autocomplete": "off"}
        add_piece_fields(self, due.pieces, system)

    @property
    def piece_fields(self) -> list[Any]:
        """Of the pieces that are not here yet."""
        return [self[_name(one.piece.number)] for one in self.due.pieces if not one.is_here]

    @property
    def open_words(self) -> str:
        return f"{plain(self.due.state.open)} {self.due.line.unit}"

    def came(self) -> dict[str, Any] | None:
        entries = {name: one for name, one in self.entries().items() if name != "photo"}
        pieces = take_pieces(entries)
        if pieces:
            entries["pieces"] = pieces
        return {"place": self.due.line.place, **entries} if entries else None

    @property
    def first_field(self) -> str:
        return next(iter(self.fields))

    def _field_at(self, path: str) -> str | None:
        return super()._field_at(path) or self.first_field

    def photos(self) -> list[bytes]:
        file = self.cleaned_data.get("photo")
        return [file.read()] if file else []


class CheckIn:
    """The page of one delivery as typed. seen: how many deliveries of the order the page knows."""

    def __init__(
        self, request: HttpRequest, order: Order, rows: list[tuple[DueLine, str, str, System]], initial: Any
    ) -> None:
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
                one.add_error(one.first_field, "Say how much of it came; there is a photo of it and no figure.")

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
                at[0].complain(DocumentError([DocumentProblem(leaf or at[0].first_field, complaint.reason)]))
            elif complaint.path in self.head.fields:
                self.head.complain(DocumentError([complaint]))
            else:
                self.told.append(f"{complaint.reason[:1].upper()}{complaint.reason[1:]}.")


def add_piece_fields(form: EntryForm, pieces: Iterable[PieceCame], system: System) -> None:
    """A tap each: good, damaged or wrong; none for what did not come."""
    fields = dict(form.fields)
    form.fields.clear()
    for one in pieces:
        label = f"{piece_words(one.piece, system)} ({piece_place(one.piece)})"
        form.fields[_name(one.piece.number)] = forms.ChoiceField(
            label=label, choices=STATE_CHOICES, required=False, widget=forms.RadioSelect
        )
    form.fields.update(fields)


def take_pieces(entries: dict[str, Any]) -> list[dict[str, Any]]:
    """Out of what was entered, as the document has them."""
    names = [name for name in entries if name.startswith(PIECE)]
    return [{"number": int(name.removeprefix(PIECE)), "state": entries.pop(name)} for name in names]


def _name(number: int) -> str:
    return f"{PIECE}{number}"


def _index(head: str) -> int | None:
    inner = head.removeprefix("lines[").removesuffix("]")
    return int(inner) if head.startswith("lines[") and inner.isdigit() else None


def _count(typed: str) -> int:
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 5 else 0
