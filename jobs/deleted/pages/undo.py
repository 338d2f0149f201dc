"""A message that something is deleted carries the address of its way back."""

from django.contrib import messages
from django.http import HttpRequest
from django.urls import reverse

from jobs.deleted.models import Deleted


def say_deleted(request: HttpRequest, words: str, row: Deleted | None) -> None:
    address = reverse("job_put_back", args=[row.job_id, row.pk]) if row else ""
    messages.success(request, words, extra_tags=f"undo:{address}" if address else "")
