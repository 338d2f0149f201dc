"""One delivery as it was checked in, with its photos; a further one may be added while it lies there."""

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render

from catalog.core.ground.document_reader import DocumentError
from jobs.deliveries.models import Delivery, ReceiptPhoto
from jobs.deliveries.services.deliveries import add_receipt_photo
from jobs.deliveries.services.if_bad import if_bad
from jobs.walls.pages.pages import photo_response
from quoting.platform import clock
from quoting.platform.firm_day import moment_at_the_firm, signature_of
from quoting.platform.pages.entry_form import EntryForm, pick, text
from quoting.platform.people import access
from quoting.platform.people.access import sees_suppliers


class PhotoForm(EntryForm):
    receipt = pick("Of", ())
    file = forms.FileField(
        label="Photo",
        help_text="A JPEG or PNG of at most 10 MB. Place, date and camera are taken out.",
        widget=forms.ClearableFileInput(attrs={"accept": "image/jpeg,image/png"}),
    )
    caption = text("What is to be seen", longest=200)

    def __init__(self, request: HttpRequest, delivery: Delivery) -> None:
        super().__init__(request.POST or None)
        self.files = request.FILES
        rows = [(str(row.pk), row.line.what) for row in delivery.lines.all()]
        self.fields["receipt"].choices = rows  # type: ignore[attr-defined]


def delivery(request: HttpRequest, delivery_id: int) -> HttpResponse:
    rows = Delivery.objects.select_related("order__supplier")
    row = get_object_or_404(
        rows.prefetch_related("lines__line__job", "lines__line__receipts", "lines__photos"), pk=delivery_id
    )
    form = PhotoForm(request, row)
    if request.method == "POST" and form.is_valid() and _added(request, row, form):
        messages.success(request, "Photo saved.")
        return redirect("delivery", row.pk)
    moment = moment_at_the_firm(clock.now())
    bad = [receipt for receipt in row.lines.all() if (receipt.damaged or receipt.wrong) and not receipt.outcome]
    follows = if_bad(row.order, [receipt.line for receipt in bad], row.received_on, moment) if bad else {}
    context = {
        "delivery": row,
        "bad": [(receipt, follows[receipt.line_id]) for receipt in bad],
        "form": form,
        "with_suppliers": sees_suppliers(request),
        "may_claim": access.is_allowed(access.role_of(request.user), "receipt", "GET"),
    }
    return render(request, "deliveries/delivery.html", context, status=form.status())


def _added(request: HttpRequest, row: Delivery, form: PhotoForm) -> bool:
    now, chosen = clock.now(), form.cleaned_data
    receipt = next((line for line in row.lines.all() if str(line.pk) == chosen["receipt"]), None)
    if receipt is None:
        form.add_error("receipt", "Choose what the photo is of.")
        return False
    data = chosen["file"].read() if chosen["file"] else b""
    signature = signature_of(request.user, now)
    try:
        add_receipt_photo(receipt, data, caption=chosen["caption"] or "", signature=signature, now=now)
    except DocumentError as error:
        form.complain(error)
        return False
    return True


def receipt_photo(request: HttpRequest, photo_id: int) -> HttpResponse:
    return photo_response(get_object_or_404(ReceiptPhoto, pk=photo_id))
