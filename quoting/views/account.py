from django import forms
from django.contrib import messages
from django.contrib.auth.views import PasswordChangeView
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse_lazy

from quoting import clock
from quoting.models import Token
from quoting.services import tokens


class TokenForm(forms.ModelForm):
    class Meta:
        model = Token
        fields = ["name"]


class OwnPassword(PasswordChangeView):
    template_name = "people/own_password.html"
    success_url = reverse_lazy("account")

    def form_valid(self, form: forms.Form) -> HttpResponse:
        messages.success(self.request, "Your password is changed.")
        return super().form_valid(form)


def account(request: HttpRequest) -> HttpResponse:
    return _account_page(request, TokenForm())


def token_make(request: HttpRequest) -> HttpResponse:
    form = TokenForm(request.POST)
    if not form.is_valid():
        return _account_page(request, form, status=422)
    row, secret = tokens.make_token(request.user, form.cleaned_data["name"], clock.now())
    response = render(request, "people/token_once.html", {"token": row, "secret": secret})
    response["Cache-Control"] = "no-store"
    return response


def token_withdraw(request: HttpRequest, token_id: int) -> HttpResponse:
    if not tokens.withdraw_token(request.user, token_id, clock.now()):
        raise Http404("You have no such token in use.")
    messages.success(request, "The token is withdrawn and opens nothing any more.")
    return redirect("account")


def _account_page(request: HttpRequest, form: TokenForm, status: int = 200) -> HttpResponse:
    own = Token.objects.filter(person=request.user, withdrawn_at=None)
    return render(request, "people/account.html", {"form": form, "tokens": own}, status=status)
