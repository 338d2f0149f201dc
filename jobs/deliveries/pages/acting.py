"""What the pages of an order's events have in common: one form, one step, and what stands in the way told in place."""

import uuid
from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from quoting.platform.pages.entry_form import EntryForm, entry_page
from quoting.platform.pages.kept_form import key_sent


def request_key(request: HttpRequest) -> str:
    return key_sent(request) or uuid.uuid4().hex


def form_page(
    request: HttpRequest, form: EntryForm, act: Callable[[dict[str, Any]], str], to: str, **about: Any
) -> HttpResponse:
    """A form on a page of its own; act: takes its entries, keeps them and says so. to: where to go then."""
    status = 200
    if request.method == "POST" and form.is_valid():
        try:
            messages.success(request, act(form.entries()))
            return redirect(to)
        except DocumentError as error:
            form.complain(error)
        except Refused as refusal:
            form.add_error(None, str(refusal))
            status = 409
    response = entry_page(request, form, back=to, **about)
    if status == 409:
        response.status_code = status
    return response
