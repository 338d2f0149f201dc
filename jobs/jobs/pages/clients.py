from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils.http import urlencode

from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import DocumentError
from jobs.jobs.models import Client
from jobs.jobs.pages.forms import ClientForm
from jobs.jobs.services.clients import save_client
from quoting.platform.pages.entry_form import entry_page, saved_words
from quoting.platform.pages.stored_values import Stored, hold


def client_list(request: HttpRequest) -> HttpResponse:
    """Clients are found among the jobs."""
    return redirect("job_list", permanent=True)


def client_change(request: HttpRequest, client_id: int) -> HttpResponse:
    hold(Client.objects.filter(pk=client_id))
    client = get_object_or_404(Client, pk=client_id)
    stored = Stored(write(client.to_core()), client, request.path)
    form = ClientForm(request.POST if request.method == "POST" else None, stored=stored)
    if request.method == "POST" and form.is_valid():
        try:
            saved = save_client(form.entries(), client.pk)
        except DocumentError as error:
            form.complain(error)
        else:
            messages.success(request, saved_words(saved.name, form))
            return redirect(f"{reverse('job_list')}?{urlencode({'client': client.pk})}")
    return entry_page(
        request,
        form,
        heading=client.name,
        says=["What is changed here is changed for all jobs of this client. Quotes already issued keep what they say."],
        back=f"{reverse('job_list')}?{urlencode({'client': client.pk})}",
        back_label="Jobs",
    )
