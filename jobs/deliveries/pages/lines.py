"""Promises, the end of a line, and an order called off."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from jobs.deliveries.pages.acting import form_page
from jobs.deliveries.pages.order_events_forms import CallOffForm, EndForm, PromiseForm
from jobs.deliveries.services.ending_orders import call_off, end_line
from jobs.deliveries.services.promises import add_promise
from jobs.orders.models import Order, OrderLine
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.screen_days import day_words


def promises(request: HttpRequest, line_id: int) -> HttpResponse:
    line, now = line_or_404(line_id), clock.now()
    signature = signature_of(request.user, now)
    form = PromiseForm(request.POST or None, {"told_on": signature.on.isoformat()})

    def act(entries: dict[str, Any]) -> str:
        promise = add_promise(line, entries, signature, now=now)
        return f"{line.what} is promised for {day_words(promise.promised_on)}."

    back = order_page(line.order)
    response = form_page(
        request,
        form,
        act,
        back,
        heading=f"A day promised for {line.what}",
        back_label=str(line.order),
        says=[f"Quoted for {day_words(line.quoted_dock_on)}." if line.quoted_dock_on else "No day was quoted."],
    )
    if response.status_code == 302:
        return response
    context = {"form": form, "line": line, "back": back, "promises": line.promises.all()}
    return render(request, "deliveries/promises.html", context, status=response.status_code)


def line_end(request: HttpRequest, line_id: int) -> HttpResponse:
    line, signature = line_or_404(line_id), signature_of(request.user, clock.now())

    def act(entries: dict[str, Any]) -> str:
        end_line(line, entries, signature)
        return f"No more of {line.what} is expected."

    form = EndForm(request.POST or None, {"ended_on": signature.on.isoformat()})
    says = ["What came stays. Order again what the job still needs."]
    return form_page(
        request, form, act, order_page(line.order), heading=f"End {line.what}", says=says, button="End the line"
    )


def order_call_off(request: HttpRequest, order_id: int) -> HttpResponse:
    order, now = get_object_or_404(Order.objects.exclude(placed_on=None), pk=order_id), clock.now()

    def act(entries: dict[str, Any]) -> str:
        call_off(order, entries, signature_of(request.user, now), now=now)
        return f"Called off: nothing more of {order} comes."

    says = ["What came stays. Order again what the jobs still need."]
    form = CallOffForm(request.POST or None)
    return form_page(
        request, form, act, order_page(order), heading=f"Call {order} off", says=says, button="Call it off"
    )


def order_page(order: Order) -> str:
    return reverse("order", args=[order.pk])


def line_or_404(line_id: int) -> OrderLine:
    rows = OrderLine.objects.select_related("order__supplier", "job", "material").exclude(order__placed_on=None)
    return get_object_or_404(rows, pk=line_id)
