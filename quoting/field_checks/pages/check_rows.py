"""The steps of a field check: a figure each, and the photos taken of it."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.http import HttpRequest

from catalog.core.ground.document_reader import DocumentError
from jobs.walls.models import Wall
from jobs.walls.services.field_confirmation import dimension_of
from jobs.walls.services.photos import MAX_CAPTION, add_photo, dimension_words
from quoting.platform import clock
from quoting.platform.pages.entry_form import sentence


@dataclass
class Row:
    """One figure. entry: its place in the wall's document. now: what is stored, where it is not as quoted.

    picture: the wall with this dimension in red. unit: of a figure without one."""

    entry: str
    label: str
    quoted: str
    now: str
    known: str
    typed: str
    errors: list[str]
    picture: str = ""
    unit: str = ""


def keep_photos(request: HttpRequest, wall: Wall, rows: Iterable[Row]) -> int:
    """How many are kept, whatever becomes of the figures; one that is refused is told beside its figure."""
    photos, places = 0, dimension_words(wall) if request.FILES else {}
    for row in rows if request.FILES else ():
        sent, place = request.FILES.get(f"photo-{row.entry}"), dimension_of(row.entry)
        if sent is None:
            continue
        about = {"caption": row.label[:MAX_CAPTION], "dimension": place if place in places else ""}
        try:
            add_photo(wall, sent.read(), **about, by=request.user.full_name, now=clock.now())
        except DocumentError as error:
            row.errors += [sentence("Photo", complaint) for complaint in error.complaints]
        else:
            photos += 1
    return photos


def photo_count(count: int) -> str:
    return f"{count} photo{'' if count == 1 else 's'}"
