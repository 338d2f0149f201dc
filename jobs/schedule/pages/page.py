"""When the site is shut, what differs from the computed activities, and the dates agreed for items of one job."""

from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render

from catalog.core.ground.document_reader import DocumentError
from catalog.pages.firm_first import firm_first
from catalog.services.book import book_of
from jobs.core.ordering.date_moves import DateMoves, dates_with, moves_between
from jobs.core.results.activity_results import item_floats
from jobs.core.schedule.job_spec import JobSpec
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import job_or_404, seen_version
from jobs.jobs.services.versions import ChangedMeanwhile
from jobs.orders.services.to_decide import decided_items
from jobs.schedule.pages.activities import clashes_shown, slack_words
from jobs.schedule.pages.day_lines import day_lines, next_to_tap
from jobs.schedule.pages.form import DatesForm
from jobs.schedule.pages.moves import activity_lines, item_lines
from jobs.schedule.pages.rows import DatesRow, StoredDates, activity_rows, item_rows, sentences_of
from jobs.schedule.services.activities_drawn import activities_drawn
from jobs.whole_jobs.services.job_entries import changed_head, save_job_head
from jobs.work_up.services.job_work_up import JobResult, work_of
from jobs.work_up.services.kept_job_specs import kept_spec
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people import access

# What a button that asks for one more row sends, and the list it is for.
MORE = {"more": "closed", "more_own": "own_activities", "more_links": "links"}
TOO_LONG = "This job has more closures, changes or agreed dates than a page holds: change them in its job file."


@dataclass(frozen=True)
class JobDatesEditor:
    """One job's days before somebody. standing: None while its walls cannot be worked out."""

    job: Job
    today: date
    work: JobResult
    stored: JobSpec
    standing: StoredDates | None

    def form(self, data: QueryDict | None = None, *, more: str = "") -> DatesForm:
        activities = (
            [(activity.key, activity.name) for activity in self.standing.chain.values()] if self.standing else []
        )
        own = [(activity.key, activity.name) for activity in self.stored.own_activities]
        items = list(self.standing.items) if self.standing else []
        sellers = self.sellers()
        return DatesForm(data, self.stored, activities=activities, own=own, items=items, sellers=sellers, more=more)

    def sellers(self) -> dict[str, list[tuple[str, str]]]:
        """Of what may be had from more than one supplier, all others than the preferred one."""
        book = book_of()
        names = {code: supplier.name for code, supplier in book.suppliers.items()}
        return {
            code: [(offer.supplier, names.get(offer.supplier, offer.supplier)) for offer in material.offers]
            for code, material in book.materials.items()
            if material.offers
        }

    def late_days(self) -> dict[str, date]:
        return {value.need.material: value.late_on for value in item_floats(self.work.done)} if self.work.done else {}

    def moves(self, spec: JobSpec) -> DateMoves | None:
        if self.standing is None or self.work.done is None:
            return None
        return moves_between(self.standing.now, dates_with(self.work.done, spec))


def find_editor(job_id: int) -> JobDatesEditor:
    job, today = job_or_404(job_id), day_at_the_firm(clock.now())
    work = work_of(job, book_of(), today)
    stored = kept_spec(job)
    if work.done is None:
        return JobDatesEditor(job, today, work, stored, None)
    plain = replace(stored, activities=(), own_activities=(), links=())
    variants = (stored, plain, replace(stored, dates=()))
    return JobDatesEditor(
        job, today, work, stored, StoredDates(*(dates_with(work.done, variant) for variant in variants))
    )


@firm_first
def job_dates(request: HttpRequest, job_id: int) -> HttpResponse:
    editor = find_editor(job_id)
    if not access.is_allowed(access.role_of(request.user), "job_dates", "POST"):
        return _read_only(request, editor)
    if not DatesForm.can_show(editor.stored):
        messages.error(request, TOO_LONG)
        return redirect("job_order_dates", editor.job.pk)
    if request.method == "POST":
        return _posted(request, editor)
    return _page(request, editor, editor.form())


def _read_only(request: HttpRequest, editor: JobDatesEditor) -> HttpResponse:
    needs = editor.standing.now.needs if editor.standing else ()
    return render(request, "schedule/days.html", _context(editor, []) | {"needs": needs})


def _posted(request: HttpRequest, editor: JobDatesEditor) -> HttpResponse:
    wanted = request.POST.get("do", "save")
    more = MORE.get(wanted, "")
    form = editor.form(request.POST, more=more)
    if more or wanted == "look":
        # Without JavaScript these buttons come here. Nothing is saved.
        return _page(request, editor, form, **_looked_at(editor, form))
    try:
        spec = changed_head(editor.job, form.document()) if form.is_valid() else None
        if spec is not None:
            save_job_head(editor.job, form.document(), seen_version=seen_version(request))
    except DocumentError as error:
        form.complain(error)
    except ChangedMeanwhile as error:
        return _page(request, editor, form, status=409, conflict=str(error))
    else:
        if spec is not None:
            messages.success(request, _saved_words(editor.moves(spec)))
            return redirect("job_dates", editor.job.pk)
    return _page(request, editor, form, status=422)


def _saved_words(moves: DateMoves | None) -> str:
    count = len(moves.items) if moves else 0
    moved = f"{count} item{' has' if count == 1 else 's have'}" if count else "No item has"
    agreed = ", ".join(item.need.name for item in moves.agreed) if moves else ""
    return f"Saved. {moved} other days than before." + (f" As agreed stay: {agreed}." if agreed else "")


@firm_first
def job_dates_preview(request: HttpRequest, job_id: int) -> HttpResponse:
    editor = find_editor(job_id)
    return render(request, "schedule/_moves.html", _looked_at(editor, editor.form(request.POST)))


def _looked_at(editor: JobDatesEditor, form: DatesForm) -> dict[str, Any]:
    """What the typed days come to. Nothing is stored."""
    if form.is_valid():
        try:
            moves = editor.moves(changed_head(editor.job, form.document()))
        except DocumentError as error:
            form.complain(error)
        else:
            return {"looked": True, **_moves_shown(moves, editor.job)}
    return {"looked": True, "faults": sentences_of(form, editor.standing)}


def _moves_shown(moves: DateMoves | None, job: Job) -> dict[str, Any]:
    if moves is None:
        return {"moves": None}
    return {
        "moves": moves,
        "moved_items": item_lines(moves, {material for _, material in decided_items([job.pk])}),
        "moved_activities": activity_lines(moves),
        "slack_before": slack_words(moves.slack_before),
        "slack_after": slack_words(moves.slack_after),
    }


def _context(editor: JobDatesEditor, rows: list[DatesRow]) -> dict[str, Any]:
    """rows: fields of the activities, none for whoever changes nothing."""
    work_up = editor.work.done
    plan, picture = (work_up.plan, activities_drawn(work_up)) if work_up else (None, None)
    lines = day_lines(plan, rows)
    return {
        "job": editor.job,
        "today": editor.today,
        "trouble": editor.work.trouble,
        "closures": editor.stored.closures,
        "plan": plan,
        "slack": slack_words(plan.slack_workdays) if plan else "",
        "lines": lines,
        "to_tap": next_to_tap(lines),
        "tapped": [line.line for line in lines if line.line and line.line.is_tapped],
        "svg": picture.svg if picture else "",
        "found": [finding for finding in plan.findings if finding.weight in ("gap", "caution")] if plan else [],
        "people": list(editor.job.people.all()),
        "clashes": clashes_shown(editor.job.key, editor.today),
    }


def _page(
    request: HttpRequest, editor: JobDatesEditor, form: DatesForm, status: int = 0, **context: Any
) -> HttpResponse:
    rows = activity_rows(form, editor.standing)
    shown = {
        **_context(editor, rows),
        "form": form,
        "editable": True,
        "activity_rows": rows,
        "item_rows": item_rows(form, editor.standing, editor.late_days()),
        "opened": request.GET.get("row", ""),
        "version": request.POST.get("seen_version", editor.job.version),
        **context,
    }
    return render(request, "schedule/days.html", shown, status=status or 200)
