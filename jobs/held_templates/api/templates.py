"""The register of templates of a job. Whoever is on the staff may enter them: they are traced on site."""

from django.shortcuts import get_object_or_404
from django.urls import reverse
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from jobs.held_templates.models import HeldTemplate
from jobs.held_templates.services.templates import ENTRIES, add_template, change_template, move_template
from jobs.jobs.services.jobs import job_of
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document, document_of, page_of, query_of
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import signature_of


class Templates(ApiView):
    @describe("list_templates", "Templates traced from the walls of a job.", gives="TemplatePage", paged=True)
    def get(self, request: Request, key: str) -> Response:
        rows = list(job_of(key).templates.prefetch_related("moves"))
        return page_of(query_of(request), rows, entry)

    @describe(
        "add_template",
        "A template that is held. Who traced it and when is you and today where not said; safe to repeat.",
        takes="NewTemplate",
        gives="TemplateEntry",
        status=201,
    )
    def post(self, request: Request, key: str) -> Response:
        document = document_of(request, (*ENTRIES, "kept_at"))
        row = add_template(job_of(key), document, signature_of(request.user, clock.now()))
        response = Response(entry(row), status=201)
        response["Location"] = reverse("api_template", args=[key, row.pk])
        return response


class OneTemplate(ApiView):
    @describe("read_template", "One template with its states.", gives="TemplateEntry")
    def get(self, request: Request, key: str, template_id: int) -> Response:
        return Response(entry(template_of(key, template_id)))

    @describe(
        "correct_template",
        "Correct a template; what is not named stays, and so do its states.",
        takes="TemplateChanges",
        gives="TemplateEntry",
    )
    def patch(self, request: Request, key: str, template_id: int) -> Response:
        document = document_of(request, ENTRIES)
        return Response(
            entry(change_template(template_of(key, template_id), document, signature_of(request.user, clock.now())))
        )


class TemplateMoves(ApiView):
    @describe(
        "move_template",
        "Enter a template's new state under your name; today if no day is given. Safe to repeat.",
        takes="NewTemplateMove",
        gives="TemplateEntry",
        status=201,
    )
    def post(self, request: Request, key: str, template_id: int) -> Response:
        document = document_of(request, ("state", "on", "kept_at"))
        row = move_template(template_of(key, template_id), document, signature_of(request.user, clock.now()))
        return Response(entry(row), status=201)


def template_of(key: str, template_id: int) -> HeldTemplate:
    return get_object_or_404(HeldTemplate, pk=template_id, job=job_of(key))


def entry(row: HeldTemplate) -> Document:
    spec = row.to_core()
    return {**write(spec), "id": row.pk, "state": spec.state, "kept_at": spec.kept_at}
