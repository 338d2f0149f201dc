"""The firm's own mark: taken in clean, kept under its hash, printed at the head of papers made from then on."""

from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

from django.conf import settings

from quoting.platform.papers.clean_svg import clean_svg, is_svg
from quoting.platform.papers.filing import StoredFile, read_file, store_file
from quoting.platform.papers.models import FirmMark
from quoting.platform.papers.photos import PaperPhoto
from quoting.platform.papers.pictures import clean_picture

CAPTION = "The firm's mark"


def marks_folder() -> Path:
    return Path(settings.MEDIA_ROOT) / "marks"


def set_mark(data: bytes, *, by: str, now: datetime) -> FirmMark:
    """Raises PictureRefused for a file that is no PNG, JPEG or plain SVG, PaperNotKept where it cannot be stored."""
    if is_svg(data):
        content, suffix = clean_svg(data), ".svg"
    else:
        picture = clean_picture(data)
        content, suffix = picture.data, picture.suffix
    stored = store_file(marks_folder(), content, suffix=suffix)
    kept = {"file_name": stored.name, "sha256": stored.sha256, "size_bytes": stored.size_bytes}
    return FirmMark.objects.create(**kept, set_at=now, set_by_name=by)


def remove_mark(*, by: str, now: datetime) -> None:
    """Papers made before keep it."""
    FirmMark.objects.create(set_at=now, set_by_name=by)


def mark_now() -> PaperPhoto | None:
    row = FirmMark.objects.last()
    return PaperPhoto(row.file_name, row.sha256, row.size_bytes, CAPTION) if row and row.file_name else None


def with_mark(paper: Any) -> Any:
    """The paper with the mark of the moment at its head; one that has its mark already keeps it."""
    firm = paper.firm
    return paper if firm.mark is not None else replace(paper, firm=replace(firm, mark=mark_now()))


def mark_bytes(mark: PaperPhoto) -> bytes:
    return read_file(marks_folder(), StoredFile(mark.file_name, mark.sha256, mark.size_bytes))


def mark_images(paper: Any) -> dict[str, bytes]:
    mark = paper.firm.mark
    return {} if mark is None else {mark.file_name: mark_bytes(mark)}
