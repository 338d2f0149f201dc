"""A client's statement: on the screen, and as a paper."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render

from catalog.pages.firm_first import firm_first
from catalog.services.book import firm_of
from jobs.jobs.models import Client
from quoting.payment_requests.services.statements import ask_for_statement, last_statement, statement_of
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.papers.papers import paper_of


@firm_first
def client_statement(request: HttpRequest, client_id: int) -> HttpResponse:
    client, now = get_object_or_404(Client, pk=client_id), clock.now()
    errand = last_statement(client)
    context = {
        "client": client,
        "found": statement_of(client, day_at_the_firm(now)),
        "currency": firm_of().currency,
        "errand": errand,
        "errand_paper": paper_of(errand) if errand else None,
    }
    return render(request, "payment_requests/statement.html", context)


def client_statement_paper(request: HttpRequest, client_id: int) -> HttpResponse:
    client, now = get_object_or_404(Client, pk=client_id), clock.now()
    ask_for_statement(client, day_at_the_firm(now), now)
    messages.success(request, "The statement is being made.")
    return redirect("client_statement", client.pk)
