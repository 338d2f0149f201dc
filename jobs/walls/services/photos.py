"""Photos and sketches of walls: taken in clean, kept under their hash, shown to those who may see the wall."""

from collections.abc import Iterable
from datetime import datetime
from typing import Any

from catalog.core.ground.document_reader import DocumentError
from jobs.core.measure.dimension_holds import every_dimension
from jobs.jobs.models import Job
from jobs.walls.models import Wall, WallPhoto
from jobs.walls.models.photos import PHOTO_FACES, PHOTO_KINDS
from jobs.walls.services.kept_pictures import keep_picture, photos_folder, picture_sent
from quoting.platform.papers.filing import StoredFile, read_file
from quoting.platform.papers.photos import PaperPhoto

MAX_A_WALL = 60
MAX_ON_PAPER = 12
MAX_CAPTION = 200


def add_photo(
    wall: Wall,
    data: bytes,
    *,
    caption: str,
    kind: str = "photo",
    face: str = "",
    dimension: str = "",
    by: str,
    now: datetime,
) -> WallPhoto:
    """Refused with a DocumentError, and then no file is left. The same picture sent twice is one photo."""
    caption = " ".join(caption.split())
    _refuse_wrong_words(wall, caption, kind, face, dimension)
    row: WallPhoto = keep_picture(
        photos_of(wall),
        picture_sent(data),
        most=MAX_A_WALL,
        full=f"{wall.name} has {MAX_A_WALL} photos already; take one down first",
        job_id=wall.job_id,
        wall=wall,
        caption=caption,
        kind=kind,
        face=face,
        dimension=dimension,
        added_by=by,
        added_at=now,
    )
    return row


def _refuse_wrong_words(wall: Wall, caption: str, kind: str, face: str, dimension: str) -> None:
    if not caption:
        raise DocumentError.at("caption", "is missing; say in a few words what is to be seen")
    if len(caption) > MAX_CAPTION:
        raise DocumentError.at("caption", f"is {len(caption)} characters long; at most {MAX_CAPTION}")
    if kind not in dict(PHOTO_KINDS):
        raise DocumentError.at("kind", f'"{kind}" is not one of photo, sketch')
    if face and face not in dict(PHOTO_FACES):
        raise DocumentError.at("face", f'"{face}" is not one of left, right')
    if dimension and dimension not in dimension_words(wall):
        raise DocumentError.at("dimension", f'"{dimension}" is not a dimension of {wall.name}')


def photos_of(wall: Wall) -> Any:
    return wall.photos.filter(taken_down_at=None)


def dimension_words(wall: Wall) -> dict[str, str]:
    """Every dimension of a wall that a photo may be about, in words."""
    return {dimension.place: dimension.words for dimension in every_dimension(wall.to_core())}


def about_words(photo: WallPhoto, dimensions: dict[str, str]) -> str:
    """What a photo shows: its face, its dimension. dimensions: in words, by their place."""
    return ", ".join(filter(None, (photo.get_face_display(), dimensions.get(photo.dimension, ""))))


def show_in_quote(photo: WallPhoto, shown: bool) -> None:
    photo.in_quote = shown
    photo.save()


def take_down(photo: WallPhoto, *, by: str, now: datetime) -> None:
    """No page shows it any more. Its file stays: it may stand in a paper that was issued."""
    photo.taken_down_by, photo.taken_down_at = by, now
    photo.save()


def paper_photos(job: Job, *, for_client: bool) -> dict[str, tuple[PaperPhoto, ...]]:
    """By wall key, at most so many a wall. for_client: only those ticked for the quote."""
    rows = WallPhoto.objects.filter(job=job, taken_down_at=None).exclude(wall=None).select_related("wall")
    if for_client:
        rows = rows.filter(in_quote=True)
    found: dict[str, tuple[PaperPhoto, ...]] = {}
    words: dict[str, dict[str, str]] = {}
    for row in rows:
        key = row.wall.key  # type: ignore[union-attr]
        if row.dimension and key not in words:
            words[key] = dimension_words(row.wall)  # type: ignore[arg-type]
        about = about_words(row, words.get(key, {}))
        photo = PaperPhoto(row.file_name, row.sha256, row.size_bytes, row.caption, about)
        found[key] = (*found.get(key, ()), photo)
    return {key: photos[:MAX_ON_PAPER] for key, photos in found.items()}


def images_of(walls: Iterable[Any]) -> dict[str, bytes]:
    """The files that the walls of a paper show, by name; each is held against its hash."""
    photos = {photo.file_name: photo for wall in walls for photo in wall.photos}
    return {
        name: read_file(photos_folder(), StoredFile(name, photo.sha256, photo.size_bytes))
        for name, photo in photos.items()
    }
