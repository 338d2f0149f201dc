"""Pictures that people send, of every room that has photos: taken in clean, kept under their hash, read back."""

from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import IntegrityError, transaction

from catalog.core.ground.document_reader import DocumentError
from jobs.walls.models import WallPhoto
from quoting.platform.models.pictures import KeptPicture
from quoting.platform.papers.errors import PaperNotKept
from quoting.platform.papers.filing import StoredFile, read_file, store_file
from quoting.platform.papers.pictures import Picture, PictureRefused, clean_picture

photo_models: list[type[KeptPicture]] = [WallPhoto]
"""Whose files stand in the folder of photos; rooms above add theirs."""


def photos_folder() -> Path:
    return Path(settings.MEDIA_ROOT) / "photos"


def picture_sent(data: bytes, path: str = "file") -> Picture:
    """Raises DocumentError at the path."""
    try:
        return clean_picture(data)
    except PictureRefused as error:
        raise DocumentError.at(path, str(error)) from error


def keep_picture(rows: Any, picture: Picture, *, most: int, full: str, path: str = "file", **columns: Any) -> Any:
    """rows: those there, at most so many; full: said at one more. The same picture sent twice is one row.

    Refused with a DocumentError at the path, and then no file is left.
    """
    mark = sha256(picture.data).hexdigest()
    present = rows.filter(sha256=mark).first()
    if present is not None:
        return present
    if rows.count() >= most:
        raise DocumentError.at(path, full)
    try:
        stored = store_file(photos_folder(), picture.data, suffix=picture.suffix)
    except PaperNotKept as error:
        raise DocumentError.at(path, str(error).replace("The paper", "The picture")) from error
    columns |= {"file_name": stored.name, "sha256": stored.sha256, "size_bytes": stored.size_bytes}
    columns |= {"width_px": picture.width_px, "height_px": picture.height_px}
    try:
        with suppress(IntegrityError), transaction.atomic():
            return rows.model._default_manager.create(**columns)
        # Somebody sent the same picture at the same moment.
        return rows.get(sha256=mark)
    except BaseException:
        if not any(model._default_manager.filter(sha256=mark).exists() for model in photo_models):
            (photos_folder() / stored.name).unlink(missing_ok=True)
        raise


def photo_bytes(photo: KeptPicture) -> bytes:
    return read_file(photos_folder(), StoredFile(photo.file_name, photo.sha256, photo.size_bytes))
