"""The bill as fields: what is printed first, then what came ticked, then lines of its own."""

from collections.abc import Iterable, Sequence
from typing import Any

from django import forms
from django.http import HttpRequest, QueryDict
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.core.ground.plain_text import money, plain
from catalog.models import Supplier
from jobs.bills.models import Bill, BillKind
from jobs.bills.pages.offered import Offer, offers_of, sent_before
from jobs.bills.services.reading import MAX_NOTE, MAX_NUMBER, MAX_SHOP
from jobs.bills.services.reading_lines import OWN
from jobs.core.costs.tags import TAGS
from jobs.jobs.models import Job
from quoting.platform.pages.entry_form import EntryForm, pick, sentence, text
from quoting.platform.pages.entry_form import day as day_field
from quoting.platform.pages.entry_rows import EntryRows

A_SHOP = "A shop, not a supplier"
SWAPPED = {"hx-select": "#offered", "hx-target": "#offered", "hx-swap": "outerHTML"}


class HeadForm(EntryForm):
    supplier = pick("Supplier", [])
    number = text("Number", longest=MAX_NUMBER)
    total = text("Total", longest=20)
    shop = text("Shop", longest=MAX_SHOP)
    day = day_field("Day of the bill")
    tax = text("Tax", longest=20)
    freight = text("Freight", longest=20)
    kind = pick("Kind", BillKind.choices)
    due = day_field("Due")
    freight_order = text("Freight is for order", "Empty: the orders ticked here.", longest=20)
    note = text("Note", longest=MAX_NOTE)

    def __init__(self, data: QueryDict | None, initial: dict[str, Any]) -> None:
        super().__init__(data, initial)
        among = Supplier.objects.order_by("name").values_list("code", "name")
        self.fields["supplier"].choices = [("", A_SHOP), *among]  # type: ignore[attr-defined]
        # Whose goods are offered follows the supplier and the kind.
        offered = {"hx-get": reverse("bill_add"), "hx-trigger": "change", "hx-include": "[name=supplier],[name=kind]"}
        for name in ("supplier", "kind"):
            self.fields[name].widget.attrs |= {**offered, **SWAPPED}
        self.fields["number" if initial.get("supplier") else "supplier"].widget.attrs["autofocus"] = True
        for name in ("total", "tax", "freight"):
            self.fields[name].widget.attrs |= {"inputmode": "decimal", "data-money": name}


class OfferForm(EntryForm):
    """tick: it stands on the bill; the figures are as agreed until somebody types others."""

    tick = forms.BooleanField(label="", required=False)
    quantity = text("Quantity", longest=20)
    amount = text("Amount", longest=20)

    def __init__(self, data: QueryDict | None, offer: Offer) -> None:
        amount = "" if offer.amount is None else money(offer.amount)
        # Of what is offered anew nothing was sent yet.
        sent = data if data is not None and f"{offer.key}-quantity" in data else None
        super().__init__(sent, {"quantity": plain(offer.quantity), "amount": amount}, prefix=offer.key)
        self.offer = offer
        self.fields["tick"].label = offer.words
        self.fields["tick"].widget.attrs["data-tick"] = ""
        self.fields["amount"].widget.attrs |= {"inputmode": "decimal", "data-money": "line"}

    def is_ticked(self) -> bool:
        return self.is_bound and bool(self.cleaned_data.get("tick"))

    def line(self) -> dict[str, Any]:
        typed = self.entries()
        typed.pop("tick", None)
        return {**self.offer.names, **typed}


class OwnLineForm(EntryForm):
    what = text("What", longest=500)
    job = pick("Job", [])
    category = pick("Kind of cost", [(pair.value, pair.label) for pair in OWN])
    amount = text("Amount", longest=20)
    quantity = text("Quantity", longest=20)
    item = text("Step or item it was quoted as", longest=200)
    tag = text("Cause", "rework, late, unforeseen, or note 2", longest=40)

    def __init__(self, *args: Any, jobs: Sequence[tuple[str, str]], **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["job"].choices = [("", "Not for a job"), *jobs]  # type: ignore[attr-defined]
        self.fields["amount"].widget.attrs |= {"inputmode": "decimal", "data-money": "line"}
        self.fields["tag"].help_text = ", ".join([*filter(None, TAGS), "note 2"])

    def is_filled(self) -> bool:
        return any(value for name, value in self.entries().items() if name not in ("job", "category"))

    def entries(self) -> dict[str, Any]:
        document = super().entries()
        return (
            document if document.get("job") else {name: entry for name, entry in document.items() if name != "category"}
        )


class BillForm:
    """All of it. accept: sentences of differences ticked; differs: those that wait to be."""

    def __init__(self, request: HttpRequest, initial: dict[str, Any], *, request_key: str, draft: Bill | None) -> None:
        data = request.POST or None
        self.request_key, self.draft, self.told, self.differs = request_key, draft, list[str](), list[str]()
        self.head = HeadForm(data, initial)
        chosen = str(self.head["supplier"].value() or "")
        self.supplier = supplier = Supplier.objects.filter(code=chosen).first() if chosen else None
        self.kind = str(self.head["kind"].value() or BillKind.BILL)
        offers = offers_of(supplier, self.kind) if supplier else []
        offers += sent_before(request.POST, offers) if supplier else []
        self.offers = [OfferForm(data, offer) for offer in offers]
        more = request.POST.get("do") == "more"
        spare = 0 if any(offer.offer.is_here for offer in self.offers) else 1
        self.own = EntryRows(OwnLineForm, "own", data, [], spare=1 if more else spare, more=more, options=_jobs())
        self.accepted = set(request.POST.getlist("accept"))

    def is_valid(self) -> bool:
        return all(
            [self.head.is_valid(), self.own.is_valid(), *[offer.is_valid() for offer in self.offers if offer.is_bound]]
        )

    @property
    def here(self) -> list[OfferForm]:
        return [offer for offer in self.offers if offer.offer.is_here]

    @property
    def to_come(self) -> list[OfferForm]:
        return [offer for offer in self.offers if not offer.offer.is_here]

    @property
    def is_open(self) -> bool:
        """Whether something of what is to come was ticked."""
        return any(form.is_bound and (form["tick"].value() or form.errors) for form in self.to_come)

    @property
    def ticked(self) -> list[OfferForm]:
        return [offer for offer in self.offers if offer.is_ticked()]

    def document(self) -> dict[str, Any]:
        lines = [*(form.line() for form in self.ticked), *self.own.entries()]
        key = {} if self.draft else {"request_key": self.request_key}
        return {**key, **self.head.entries(), "lines": lines, "accept": sorted(self.accepted)}

    def complain(self, error: DocumentError) -> None:
        for complaint in error.complaints:
            place, leaf = _place(complaint.path)
            if place is None:
                self._of_head(complaint)
            elif place < len(self.ticked):
                self.ticked[place].complain(DocumentError([DocumentProblem(leaf, complaint.reason)]))
            else:
                self.own.takes(DocumentProblem(f"own[{place - len(self.ticked)}].{leaf}", complaint.reason))

    def _of_head(self, problem: DocumentProblem) -> None:
        if problem.path in self.head.fields:
            self.head.complain(DocumentError([problem]))
        else:
            self.told.append(sentence("", problem))


def _place(path: str) -> tuple[int | None, str]:
    first, _, leaf = path.partition(".")
    number = first.removeprefix("lines[").removesuffix("]")
    return (int(number), leaf) if first.startswith("lines[") and number.isdigit() else (None, leaf)


def _jobs() -> dict[str, Any]:
    rows: Iterable[Job] = Job.objects.filter(closed_on=None).select_related("client").order_by("-pk")
    return {"jobs": [(row.key, f"{row.title}, {row.client.name}") for row in rows]}
