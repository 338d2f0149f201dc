"""What is to be mended: entered once, changed, mended and opened again, each under the name of whoever says it."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated, Any
from uuid import uuid4

from django.db import transaction
from django.db.models import QuerySet

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import As, Stripped, Text, read
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import RequestKey, refuse_another
from catalog.services.row_sync import save_if_changed
from jobs.finish.models import FinishItem, FinishPhoto
from jobs.hours.models import Worker
from jobs.jobs.models import Job
from jobs.jobs.services.changes import fact_changed
from jobs.schedule.models import ActualDays
from jobs.walls.models import Wall
from jobs.walls.services.kept_pictures import keep_picture, picture_sent
from quoting.platform.papers.pictures import Picture
from quoting.platform.people.models import Person
from quoting.platform.people.signatures import Signature

MAX_WORDS = 300
MAX_ITEMS, MAX_PHOTOS, MAX_OF_CLIENT = 200, 6, 20


@dataclass(frozen=True, kw_only=True)
class FoundItem:
    """What is to be mended, as the client says it."""

    what: Annotated[str, Stripped(MAX_WORDS), As(label="What is wrong", example="Dent beside the door")]
    wall: Annotated[str, Text(60), "Key of a wall; empty for the whole job.", As(example="screen")] = ""


@dataclass(frozen=True, kw_only=True)
class FinishEntry(FoundItem):
    """What is to be mended, by whom and by when."""

    who: Annotated[str, Text(200), "Somebody of the firm.", As(label="Who mends it", example="Ines Quarrell")]
    due: Annotated[date, "The day by which it is mended.", As(label="By", example="2027-03-12")]


@dataclass(frozen=True, kw_only=True)
class NewFinishItem(FinishEntry):
    request_key: RequestKey


@dataclass(frozen=True)
class MendedItem:
    """The client reads what was done."""

    words: Annotated[str, Stripped(MAX_WORDS), As(label="What was done", hint="The client reads it.")] = ""


class StillToMend(Refused):
    """Where the list is, for whoever shows the refusal."""

    def __init__(self, job: Job, count: int) -> None:
        super().__init__(f"{count} item{' is' if count == 1 else 's are'} open on the finish list. Mend them first.")
        self.place = ("finish_list", str(job.pk))


def items_of(job: Job) -> QuerySet[FinishItem]:
    return FinishItem.objects.filter(job=job).select_related("wall").prefetch_related("photos")


def open_items(job: Job) -> QuerySet[FinishItem]:
    return FinishItem.objects.filter(job=job, mended_on=None)


def refuse_while_open(job: Job) -> None:
    """Before the job is done. Raises StillToMend."""
    count = open_items(job).count()
    if count:
        raise StillToMend(job, count)


def people_of_the_firm(today: date) -> list[str]:
    """Whoever may be asked to mend: those who log in, and those whose hours are entered."""
    there = Worker.objects.exclude(last_day__lt=today).values_list("name", flat=True)
    return sorted({*Person.objects.filter(is_active=True).values_list("full_name", flat=True), *there})


def add_item(
    job: Job, document: dict[str, Any], signature: Signature, *, now: datetime, photo: bytes = b""
) -> tuple[FinishItem, bool]:
    """document: a `NewFinishItem`. Safe to repeat. The row, and whether it is new.

    Raises DocumentError, Refused.
    """
    new, picture = read(NewFinishItem, Reader(document)), picture_sent(photo) if photo else None
    columns = _columns(job, new, signature)
    with transaction.atomic():
        job = _held(job)
        present = FinishItem.objects.filter(request_key=new.request_key).first()
        if present is not None:
            refuse_another((present.job_id, present.what) != (job.pk, new.what), "something else")
            return present, False
        item = _made(job, signature, request_key=new.request_key, **columns)
        if picture:
            _keep_photo(item, picture, signature, now)
        return item, True


def add_of_client(job: Job, document: dict[str, Any], signature: Signature) -> FinishItem:
    """document: a `FoundItem`. The firm says who mends it and by when. The same said again while it is open is one.

    Raises DocumentError, Refused.
    """
    new = read(FoundItem, Reader(document))
    with transaction.atomic():
        job, wall = _held(job), _wall(job, new)
        present = open_items(job).filter(what=new.what, wall=wall).first()
        if present is not None:
            return present
        if not ActualDays.objects.filter(job=job).exists():
            raise Refused("Work has not begun on site yet. Ask a question instead.")
        if open_items(job).filter(by_client=True).count() >= MAX_OF_CLIENT:
            raise Refused(f"{MAX_OF_CLIENT} of yours are open already. Call us, and we go through them together.")
        return _made(job, signature, request_key=uuid4().hex, what=new.what, wall=wall, by_client=True)


def change_item(item: FinishItem, document: dict[str, Any], signature: Signature) -> None:
    """document: a `FinishEntry`, all of it. Raises DocumentError, Refused."""
    new = read(FinishEntry, Reader(document))
    _saved(item, _columns(item.job, new, signature, before=item.due))


def mend_item(item: FinishItem, document: dict[str, Any], signature: Signature) -> None:
    """document: a `MendedItem`. Mended twice it is mended once. Raises DocumentError, Refused."""
    words = read(MendedItem, Reader(document)).words
    if item.mended_on is None:
        _saved(item, {"mended_on": signature.on, "mended_by": signature.by, "answer": words})


def open_again(item: FinishItem) -> None:
    """Raises Refused."""
    _saved(item, {"mended_on": None, "mended_by": "", "answer": ""})


@transaction.atomic
def add_photo_of(item: FinishItem, data: bytes, signature: Signature, *, now: datetime) -> FinishPhoto:
    """The same picture sent twice is one. Raises DocumentError, Refused."""
    picture = picture_sent(data)
    _held(item.job)
    return _keep_photo(item, picture, signature, now)


def _columns(job: Job, new: FinishEntry, signature: Signature, before: date | None = None) -> dict[str, Any]:
    if new.due != before and new.due < signature.on:
        raise DocumentError.at("due", f"{day_words(new.due)} has passed; give today or a later day")
    people = people_of_the_firm(signature.on)
    if new.who not in people:
        raise DocumentError.at("who", f"“{new.who}” is nobody of the firm; it has {', '.join(people)}")
    return {"what": new.what, "wall": _wall(job, new), "who": new.who, "due": new.due}


def _wall(job: Job, new: FoundItem) -> Wall | None:
    wall = job.walls.filter(key=new.wall).first() if new.wall else None
    if new.wall and wall is None:
        known = ", ".join(job.walls.values_list("key", flat=True))
        raise DocumentError.at("wall", f"“{new.wall}” is not a wall of {job}; it has {known or 'none'}")
    return wall


def _made(job: Job, signature: Signature, **columns: Any) -> FinishItem:
    if FinishItem.objects.filter(job=job).count() >= MAX_ITEMS:
        raise Refused(f"The finish list of {job} has {MAX_ITEMS} items already, the most it can have.")
    item = FinishItem.objects.create(job=job, raised_on=signature.on, raised_by=signature.by, **columns)
    fact_changed(job.pk)
    return item


@transaction.atomic
def _saved(item: FinishItem, columns: dict[str, Any]) -> None:
    _held(item.job)
    if save_if_changed(item, columns):
        fact_changed(item.job_id)


def _keep_photo(item: FinishItem, picture: Picture, signature: Signature, now: datetime) -> FinishPhoto:
    full = f"this item has {MAX_PHOTOS} photos already, the most it can have"
    about = {"item": item, "added_by": signature.by, "added_at": now}
    photo: FinishPhoto = keep_picture(item.photos, picture, most=MAX_PHOTOS, full=full, **about)
    return photo


def _held(job: Job) -> Job:
    """Two who say it at the same moment: one of them waits here. Raises Refused for a closed job."""
    job = Job.objects.select_for_update().get(pk=job.pk)
    if job.closed_on is not None:
        raise Refused(f"{job} is closed. Open it again first.")
    return job
