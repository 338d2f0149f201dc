"""What is sent and answered of the finish list of a job."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Annotated

from catalog.core.ground.declared import Of, View
from jobs.deliveries.api.shapes.claims import Photo
from jobs.finish.services.finish_list import FinishEntry, MendedItem, NewFinishItem
from quoting.platform.api.declared import answer_shapes, list_of, request_shapes


class FinishPhotoShown(View):
    """A photo of what is to be mended, turned upright and without anything but its pixels."""

    document_name = "finish_photo"

    id: int
    sha256: str
    size_bytes: int
    width_px: int
    height_px: int
    added_by: str
    added_at: datetime


class FinishItemShown(View):
    """Something to be mended. Null: `wall` of what is of the whole job; `due` of what the firm has not looked at yet;
    `mended_on` while it is open."""

    document_name = "finish_item"

    id: int
    wall: Annotated[str | None, Of(lambda row: row.wall and row.wall.key)]
    what: str
    who: Annotated[str, "Empty until the firm has looked at what the client added."]
    due: date | None
    by_client: bool
    raised_on: date
    raised_by: str
    mended_on: date | None
    mended_by: str
    words: Annotated[str, "What was done, for the client.", Of("answer")]
    photos: Annotated[tuple[FinishPhotoShown, ...], Of(lambda row: row.photos.all())]


@dataclass(frozen=True)
class NewFinishPhoto:
    """A photo of what is to be mended."""

    file: Photo


FinishItems = list_of("FinishItems", "items", FinishItemShown, "Everything on the finish list of a job.")
SHAPES = {
    **answer_shapes(FinishItems),
    **request_shapes(FinishEntry, NewFinishItem, MendedItem, NewFinishPhoto),
}
