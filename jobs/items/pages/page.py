"""What a job buys beside its walls."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from catalog.core.ground.document_reader import DocumentError
from catalog.pages.firm_first import firm_first
from catalog.pages.words import UNITS_USED
from catalog.services.book import book_of
from jobs.core.schedule.job_spec import JobSpec
from jobs.deleted.models import DeletedKind
from jobs.deleted.pages.undo import say_deleted
from jobs.deleted.services.deleted import Deletion
from jobs.items.pages.form import JobItemsForm
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404, seen_version
from jobs.jobs.services.versions import ChangedMeanwhile
from jobs.whole_jobs.services.job_entries import save_job_head
from jobs.work_up.services.job_work_up import JobResult, work_of
from jobs.work_up.services.kept_job_specs import kept_spec
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm


@firm_first
def job_items(request: HttpRequest, job_id: int) -> HttpResponse:
    job, book = job_or_404(job_id), book_of()
    stored, work = kept_spec(job), work_of(job, book, day_at_the_firm(clock.now()))
    more = request.POST.get("do") == "more"
    form = JobItemsForm(request.POST or None, stored, _activities(work), more=more)
    if request.method != "POST" or more:
        return _page(request, job, stored, work, form)
    if form.rows.is_valid():
        deletion = Deletion(request.user.full_name, clock.now())
        try:
            save_job_head(job, form.document(), seen_version=seen_version(request), deletion=deletion)
        except DocumentError as error:
            form.complain(error)
        except ChangedMeanwhile as error:
            return _page(request, job, stored, work, form, status=409, conflict=str(error))
        else:
            _say_saved(request, job, deletion)
            return redirect("job_items", job.pk)
    return _page(request, job, stored, work, form, status=422)


def _say_saved(request: HttpRequest, job: Job, deletion: Deletion) -> None:
    gone = list(job.deleted.filter(kind=DeletedKind.ITEM, deleted_at=deletion.now))
    message = f" Deleted: {', '.join(row.name for row in gone)}." if gone else ""
    count = job.items.count()
    words = f"Saved: {count} item{'' if count == 1 else 's'}.{message}"
    say_deleted(request, words, gone[0] if len(gone) == 1 else None)


def _activities(work: JobResult) -> list[tuple[str, str]]:
    return (
        [(activity.key, activity.name) for activity in work.done.plan.activities if activity.kind != "delivery"]
        if work.done
        else []
    )


def _page(
    request: HttpRequest, job: Job, stored: JobSpec, work: JobResult, form: JobItemsForm, status: int = 200, **more: Any
) -> HttpResponse:
    book = book_of()
    units = {code: UNITS_USED.get(material.unit_used, material.unit_used) for code, material in book.materials.items()}
    shown = {
        "job": job,
        "trouble": work.trouble,
        "form": form,
        "rows": [(entry, units.get(str(entry["material"].value() or ""), "")) for entry in form.rows.with_blank],
        "version": request.POST.get("seen_version", job.version),
    }
    return render(request, "items/items.html", shown | more, status=status)
