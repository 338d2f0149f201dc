from django import forms
from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.contrib.auth.views import PasswordChangeView
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse, reverse_lazy

from quoting.alerts.pages.mail_preferences import WishForm, save_wish
from quoting.alerts.services.alert_settings import alert_times
from quoting.alerts.services.feed_addresses import live_feed_address
from quoting.alerts.services.mail_preferences import wish_of
from quoting.platform import clock
from quoting.platform.mail_way import mail_stays
from quoting.platform.people import access
from quoting.platform.people.models import Token
from quoting.platform.people.services import tokens
from quoting.platform.people.services.log_in_limits import count_guess, own_password_limit, take_back
from quoting.platform.people.services.people import set_password


class TokenForm(forms.ModelForm):
    class Meta:
        model = Token
        fields = ["name"]


class OwnPassword(PasswordChangeView):
    template_name = "people/own_password.html"
    success_url = reverse_lazy("account")

    def post(self, request: HttpRequest, *args: object, **kwargs: object) -> HttpResponse:
        limits, now = own_password_limit(request.user), clock.now()
        count_guess(limits, now)
        response = super().post(request, *args, **kwargs)
        if response.status_code == 302:
            take_back(limits, now)
        return response

    def form_valid(self, form: forms.Form) -> HttpResponse:
        person = set_password(self.request.user.pk, form.cleaned_data["new_password1"])
        update_session_auth_hash(self.request, person)
        messages.success(self.request, "Your password is changed. Other log-ins, tokens and your calendar have ended.")
        return redirect(self.success_url)


def account(request: HttpRequest) -> HttpResponse:
    return account_page(request)


def token_make(request: HttpRequest) -> HttpResponse:
    form = TokenForm(request.POST)
    if not form.is_valid():
        return account_page(request, form, status=422)
    row, secret = tokens.make_token(request.user, form.cleaned_data["name"], clock.now())
    response = render(request, "people/token_once.html", {"token": row, "secret": secret})
    response["Cache-Control"] = "no-store"
    response["Content-Location"] = reverse("account")
    return response


def token_withdraw(request: HttpRequest, token_id: int) -> HttpResponse:
    if not tokens.withdraw_token(request.user, token_id, clock.now()):
        raise Http404("You have no such token in use.")
    messages.success(request, "The token is withdrawn and opens nothing any more.")
    return redirect("account")


def wish_set(request: HttpRequest) -> HttpResponse:
    wrong = save_wish(request)
    if wrong is not None:
        return account_page(request, wish_form=wrong, status=422)
    messages.success(request, "Saved: which mail comes to you.")
    return redirect("account")


def account_page(
    request: HttpRequest, form: TokenForm | None = None, wish_form: WishForm | None = None, status: int = 200
) -> HttpResponse:
    may_wish = access.is_allowed(access.role_of(request.user), "mail_wish_set", "POST")
    context = {
        "form": form or TokenForm(),
        "tokens": Token.objects.filter(person=request.user, withdrawn_at=None),
        "feed": live_feed_address(request.user),
        "wish_form": (wish_form or WishForm.offered(wish_of(request.user))) if may_wish else None,
        "times": alert_times() if may_wish else None,
        "mail_stays_here": mail_stays(),
    }
    return render(request, "people/account.html", context, status=status)
