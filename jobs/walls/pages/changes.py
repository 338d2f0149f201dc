from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from jobs.deleted.pages.undo import say_deleted
from jobs.deleted.services.deleted import Deletion
from jobs.jobs.models import Job
from jobs.jobs.pages.requests import seen_version
from jobs.jobs.services.versions import ChangedMeanwhile
from jobs.walls.models import Wall
from jobs.walls.services.brought_in import confirm_brought_in
from jobs.walls.services.deleted_walls import delete_wall
from jobs.walls.services.walls import copy_wall, free_wall_name
from quoting.platform import clock
from quoting.platform.firm_day import signature_of
from quoting.platform.pages.entry_form import EntryForm, entry_page, pick, text


class CopyForm(EntryForm):
    name = text("Name of the copy", longest=200)
    job = pick("Job", ())

    def __init__(self, request: HttpRequest, wall: Wall) -> None:
        initial = {"name": free_wall_name(wall.job, wall.name), "job": str(wall.job_id)}
        super().__init__(request.POST if request.method == "POST" else None, initial)
        others = (
            Job.objects.filter(closed_on=None).exclude(pk=wall.job_id).order_by("-pk").values_list("pk", "key", "title")
        )
        here = (str(wall.job_id), f"{wall.job.key} {wall.job.title}, this job")
        self.fields["job"].choices = [here, *((str(pk), f"{key} {title}") for pk, key, title in others)]  # type: ignore[attr-defined]

    def copied(self, wall: Wall) -> Wall:
        """A name left as it was offered here is no reason to call it a copy in another job."""
        job = Job.objects.get(pk=self.cleaned_data["job"] or wall.job_id)
        is_as_offered = job.pk != wall.job_id and "name" not in self.changed_data
        return copy_wall(wall, to=job, name="" if is_as_offered else self.cleaned_data["name"])


def wall_or_404(job_id: int, wall_key: str) -> Wall:
    return get_object_or_404(Wall.objects.select_related("job__client"), job_id=job_id, key=wall_key)


def wall_copy(request: HttpRequest, job_id: int, wall_key: str) -> HttpResponse:
    wall = wall_or_404(job_id, wall_key)
    form = CopyForm(request, wall)
    if request.method == "POST" and form.is_valid():
        try:
            made = form.copied(wall)
        except DocumentError as error:
            form.complain(error)
        else:
            where = f" to {made.job.key}" if made.job_id != wall.job_id else ""
            message = f"Copied{where}: {made.name}. Decisions, readings and marks stay with {wall.name}."
            messages.success(request, message)
            return redirect("wall", made.job_id, made.key)
    return entry_page(
        request,
        form,
        heading=f"Copy {wall.name}",
        says=["Decisions, readings, leans, offsets and marks are not copied. All else is."],
        button="Copy the wall",
        back=_url(wall),
        back_label=wall.name,
    )


def wall_confirm(request: HttpRequest, job_id: int, wall_key: str) -> HttpResponse:
    """Somebody here stands for what came with a file."""
    wall, typed = wall_or_404(job_id, wall_key), request.POST.get("seen_version", "")
    seen = int(typed) if typed.isascii() and typed.isdigit() else 0
    try:
        count = confirm_brought_in(wall, seen_version=seen, signature=signature_of(request.user, clock.now()))
    except ChangedMeanwhile as error:
        messages.error(request, str(error))
    else:
        message = f"{count} confirmed by {request.user.full_name}." if count else "All of it is confirmed already."
        messages.success(request, message)
    return redirect("wall", job_id, wall_key)


def wall_delete(request: HttpRequest, job_id: int, wall_key: str) -> HttpResponse:
    wall = wall_or_404(job_id, wall_key)
    if request.method == "POST":
        deletion = Deletion(request.user.full_name, clock.now())
        try:
            row = delete_wall(wall, deletion=deletion, seen_version=seen_version(request))
        except ChangedMeanwhile as error:
            messages.error(request, str(error))
            return redirect("wall", job_id, wall_key)
        say_deleted(request, f"Deleted: {wall.name}. It can be put back for 30 days.", row)
        return redirect("job", job_id)
    return render(request, "walls/delete.html", {"wall": wall, "job": wall.job, "back": _url(wall)})


def _url(wall: Wall) -> str:
    return reverse("wall", args=[wall.job_id, wall.key])
