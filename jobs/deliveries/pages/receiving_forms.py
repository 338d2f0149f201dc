"""What is entered of a delivery: large fields, filled with a glove on; what is left empty did not come."""

import uuid
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from django import forms
from django.http import HttpRequest, QueryDict

from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.core.ground.plain_text import plain
from catalog.core.ground.units import System
from jobs.deliveries.services.due_deliveries import DueLine
from jobs.deliveries.services.if_bad import IfBad
from jobs.deliveries.services.received_pieces import STATES
from jobs.orders.models import Order
from jobs.orders.pages.shown import piece_place, piece_words
from jobs.orders.services.pieces import PieceCame
from quoting.platform.pages.entry_form import EntryForm, day, text
from quoting.platform.pages.kept_form import key_sent

PIECE = "piece-"
STATE_CHOICES = [(name, name.capitalize()) for name in STATES]
ALL_GOOD, COUNTED = "all", "counted"
SENT_BEFORE = (
    "This form has checked in a delivery of the order before, with other figures. If that one was typed wrong, have "
    "the office correct it; if this is another delivery, send it again."
)


class DeliveryForm(EntryForm):
    received_on = day("Came on")
    note = text("About the whole delivery", "Such as: left in the yard, packing torn.", rows=2)
    slip = forms.FileField(
        label="Photo of the packing slip",
        widget=forms.ClearableFileInput(attrs={"accept": "image/jpeg,image/png", "capture": "environment"}),
    )


@dataclass(frozen=True)
class DueRow:
    """One line that may come. pieces: of what lengths; where: on which walls. if_bad: what follows if it comes so."""

    due: DueLine
    pieces: str
    where: str
    if_bad: IfBad | None
    system: System


class CameForm(EntryForm):
    """What came of one line: all of it good by one tap, else by count; or how each of its pieces came."""

    whole = forms.ChoiceField(
        label="How it came",
        choices=[(ALL_GOOD, "All good"), (COUNTED, "Some missing or bad")],
        widget=forms.RadioSelect,
    )
    good = text("Good", longest=20)
    damaged = text("Damaged", longest=20)
    wrong = text("Wrong", longest=20)
    more = text("More good pieces than ordered", longest=20)
    note = text("What is wrong with it", longest=500)
    photo = forms.FileField(
        label="Photo",
        widget=forms.ClearableFileInput(attrs={"accept": "image/jpeg,image/png", "capture": "environment"}),
    )

    def __init__(self, data: QueryDict | None, files: Any, row: DueRow) -> None:
        due = row.due
        super().__init__(data, prefix=f"line-{due.line.place}")
        self.files, self.due, self.pieces, self.where = files or {}, due, row.pieces, row.where
        self.if_bad = row.if_bad
        for name in ("whole", *STATES) if due.pieces else ("more",):
            del self.fields[name]
        for name in ("more",) if due.pieces else STATES:
            self.fields[name].widget.attrs |= {"inputmode": "decimal", "autocomplete": "off", "placeholder": " "}
        add_piece_fields(self, due.pieces, row.system)
        if due.pieces:
            self.fields["more"].label = f"More than ordered: {due.line.what.partition(',')[0]}"

    @property
    def runs(self) -> list[tuple[str, list[Any]]]:
        """Its pieces that are not here yet, run by run."""
        named = [(f"{came.piece.run}, {came.piece.wall}", self[_name(came.piece.number)]) for came in self.still]
        return [(run, [field for _, field in mine]) for run, mine in groupby(named, lambda pair: pair[0])]

    @property
    def still(self) -> list[PieceCame]:
        return [piece for piece in self.due.pieces if not piece.is_here]

    @property
    def open_words(self) -> str:
        return f"{plain(self.due.state.open)} {self.due.line.unit}"

    def came(self) -> dict[str, Any] | None:
        entries = {name: value for name, value in self.entries().items() if name not in ("photo", "whole")}
        if self.cleaned_data.get("whole") == ALL_GOOD and not any(name in entries for name in STATES):
            entries["good"] = plain(self.due.state.open)
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

    def __init__(self, request: HttpRequest, order: Order, rows: Sequence[DueRow], initial: Any) -> None:
        data = request.POST if request.method == "POST" else None
        self.order, self.messages = order, list[str]()
        self.head = DeliveryForm(data, initial)
        self.head.files = request.FILES
        self.lines = [CameForm(data, request.FILES, row) for row in rows]
        self.request_key = key_sent(request) or uuid.uuid4().hex
        self.seen = _count(request.POST.get("seen_deliveries", "")) if data is not None else order.deliveries.count()

    def is_valid(self) -> bool:
        return all([self.head.is_valid(), *[line.is_valid() for line in self.lines]])

    @property
    def has_more(self) -> bool:
        """Whether more than was ordered is typed, or wrongly typed, of any line."""
        return any(line["more"].value() for line in self.lines if "more" in line.fields)

    def document(self) -> dict[str, Any]:
        return {
            **{name: value for name, value in self.head.entries().items() if name != "slip"},
            "request_key": self.request_key,
            "seen_deliveries": self.seen,
            "lines": [came for line in self.lines if (came := line.came())],
        }

    def photos(self) -> dict[int, list[bytes]]:
        return {line.due.line.place: files for line in self.lines if (files := line.photos())}

    def slip(self) -> bytes | None:
        file = self.head.cleaned_data.get("slip")
        return file.read() if file else None

    def refuse_lonely_photos(self) -> None:
        """A photo is of something that came: without a figure nobody knows of how much."""
        for line in self.lines:
            if line.cleaned_data.get("photo") and line.came() is None:
                line.add_error(line.first_field, "Say how much of it came; there is a photo of it and no figure.")

    def complain(self, error: DocumentError) -> None:
        sent = [line for line in self.lines if line.came()]
        for complaint in error.complaints:
            if complaint.path == "request_key":
                # Told once, as of a delivery nobody had seen: sent again it goes out under a key of its own.
                self.request_key, self.seen = uuid.uuid4().hex, self.order.deliveries.count()
                self.messages.append(SENT_BEFORE)
                continue
            head, _, leaf = complaint.path.partition(".")
            place = _index(head)
            if leaf == "photo" and place is not None:
                at = [line for line in self.lines if line.due.line.place == place]
            else:
                at = sent[place : place + 1] if place is not None else []
            if at:
                at[0].complain(DocumentError([DocumentProblem(leaf or at[0].first_field, complaint.reason)]))
            elif complaint.path in self.head.fields:
                self.head.complain(DocumentError([complaint]))
            else:
                self.messages.append(f"{complaint.reason[:1].upper()}{complaint.reason[1:]}.")


def add_piece_fields(form: EntryForm, pieces: Iterable[PieceCame], system: System, *, with_run: bool = False) -> None:
    """A tap each: good, damaged or wrong; none for what did not come. with_run: where its run is not said besides."""
    fields = dict(form.fields)
    form.fields.clear()
    for piece in pieces:
        words = piece_words(piece.piece, system)
        label = f"{words} ({piece_place(piece.piece)})" if with_run else f"{piece.piece.place}. {words}"
        form.fields[_name(piece.piece.number)] = forms.ChoiceField(
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
