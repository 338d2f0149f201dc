"""A job's build beside others: chosen by a form, set side by side, one of them taken."""

import json
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.encoding import iri_to_uri

from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader, parse_document
from catalog.pages.firm_first import firm_first
from catalog.services.typed_money import entry_reader
from jobs.core.measure.survey import SurveyError
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404
from jobs.jobs.services.versions import ChangedMeanwhile
from quoting.builds.pages.form import builds_form
from quoting.builds.pages.rows import changes_of, rows_of
from quoting.builds.services.comparing import compare_builds, use_build, versions_of
from quoting.core.prices.variants import Variant, read_variants
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.pages.entry_form import sentence
from quoting.platform.pages.entry_rows import EntryRows
from quoting.platform.people.access import sees_margin

MAX_QUERY = 8000


@firm_first
def job_builds(request: HttpRequest, job_id: int) -> HttpResponse:
    job = job_or_404(job_id)
    chosen = any(name.startswith("variants-") for name in request.GET)
    form = builds_form(job, request.GET if chosen else None, request.GET)
    context: dict[str, Any] = {"job": job, "builds_form": form, "today": day_at_the_firm(clock.now())}
    if chosen and "more" not in request.GET:
        context |= _compared(request, job, form) if form.is_valid() else {}
        return render(request, "builds/builds.html", context, status=200 if "rows" in context else 422)
    return render(request, "builds/builds.html", context)


def _compared(request: HttpRequest, job: Job, form: EntryRows) -> dict[str, Any]:
    # Read before the figures: a change in between is then found when a build is taken.
    versions = dict(versions_of(job))
    try:
        if not form.filled:
            raise DocumentError.at("variants", "choose what is built another way in at least one build")
        variants = read_variants(entry_reader({"variants": form.entries()}))
        compared = compare_builds(job, variants, day_at_the_firm(clock.now()))
    except DocumentError as error:
        return {"faults": [sentence("", complaint) for complaint in error.complaints if not form.takes(complaint)]}
    except SurveyError as error:
        return {"faults": [f"The walls as they stand cannot be worked out. {error.field}: {error.reason}"]}
    return {
        "present": compared.present,
        "held": compared.held if sees_margin(request) else (),
        "builds": [(build, json.dumps(write(build.variant)), changes_of(build)) for build in compared.builds],
        "rows": rows_of(compared, with_price=sees_margin(request)),
        "versions": json.dumps(versions),
        "currency": compared.present.done.read.book.firm.currency,
    }


def job_build_use(request: HttpRequest, job_id: int) -> HttpResponse:
    job = job_or_404(job_id)
    try:
        variant, seen = _asked(request)
        rebuilt = use_build(job, variant, seen=seen, today=day_at_the_firm(clock.now()))
    except DocumentError as error:
        messages.error(request, f"Nothing was saved. {sentence('', DocumentProblem('', error.complaints[0].reason))}")
    except ChangedMeanwhile:
        messages.error(
            request,
            "Someone changed this job or one of its walls after the builds were compared. Nothing was saved: "
            "compare them again, and take one then.",
        )
    else:
        names = {wall.key: wall.name for wall in rebuilt.read.job.walls}
        walls = ", ".join(names[key] for key in rebuilt.walls)
        messages.success(request, f"Built as “{variant.name}” from now on: {walls}.")
        return redirect("job", job.pk)
    query = request.POST.get("query", "")
    return redirect(f"{reverse('job_builds', args=[job.pk])}{'?' if query else ''}{iri_to_uri(query)[:MAX_QUERY]}")


def _asked(request: HttpRequest) -> tuple[Variant, dict[str, int]]:
    reader = Reader({"variants": [parse_document(request.POST.get("variant", ""))]})
    variant = read_variants(reader)[0]
    versions = parse_document(request.POST.get("versions", ""))
    reader = Reader(versions)
    return variant, {name: reader.whole(name, 1, 1_000_000_000) for name in reader.names()}
