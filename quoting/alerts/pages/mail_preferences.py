"""What mail from here a person wants, and when the firm wants to hear of order-by days."""

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from catalog.core.ground.refusal import EntryError, Refused
from quoting.alerts.models import AlertTimes, MailWish
from quoting.alerts.services.alert_settings import alert_times, set_alert_times
from quoting.alerts.services.mail_preferences import set_wish
from quoting.platform import clock
from quoting.platform.pages.entry_form import EntryForm, entry_page, saved_words, text
from quoting.platform.pages.stored_values import Stored, hold


class WishForm(forms.Form):
    address = forms.CharField(
        label="Mail address", max_length=254, required=False, widget=forms.EmailInput(attrs={"autocomplete": "email"})
    )
    alerts = forms.BooleanField(label="Alerts", required=False)
    weekly_list = forms.BooleanField(label="Weekly list", required=False)

    use_required_attribute = False

    @classmethod
    def offered(cls, wish: MailWish) -> "WishForm":
        return cls(initial={"address": wish.address, "alerts": wish.alerts, "weekly_list": wish.weekly_list})


class TimesForm(EntryForm):
    days_ahead = text(
        "Working days ahead",
        "Such as 10, 5, 1; always on the day itself and the day after.",
        longest=60,
    )
    list_at = text("Weekly list at", "By the firm's clock, such as 07:00.", longest=10)


def save_wish(request: HttpRequest) -> WishForm | None:
    """The form with what is wrong; None when it is saved."""
    form = WishForm(request.POST)
    if form.is_valid():
        try:
            set_wish(request.user, now=clock.now(), **form.cleaned_data)
        except Refused as refusal:
            form.add_error("address", str(refusal))
        else:
            return None
    return form


def times_change(request: HttpRequest) -> HttpResponse:
    hold(AlertTimes.objects.all())
    now = alert_times()
    values = {"days_ahead": now.days_ahead, "list_at": f"{now.list_at:%H:%M}"}
    form = TimesForm(request.POST or None, stored=Stored(values, address=request.path))
    if request.method == "POST" and form.is_valid():
        try:
            set_alert_times(form.cleaned_data["days_ahead"], form.cleaned_data["list_at"])
        except EntryError as error:
            form.add_error(error.field, error.reason)
        else:
            messages.success(request, saved_words("the times of mail", form))
            return redirect("account")
    says = ("These times are for everybody who gets this mail.",)
    return entry_page(
        request, form, heading="When mail goes out", says=says, back=reverse("account"), back_label="Your account"
    )
