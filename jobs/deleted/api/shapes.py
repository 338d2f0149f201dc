"""What was deleted as the API says it."""

from datetime import datetime
from typing import Annotated

from catalog.core.ground.declared import Choice, Of, TextOrNull, View, itself
from jobs.deleted.models import DeletedKind
from quoting.platform.api.declared import answer_shapes


class DeletedPart(View):
    """A part of a job that was deleted. until: put back by then, or it is gone."""

    id: int
    kind: Annotated[str, Choice(tuple(DeletedKind.values))]
    key: str
    name: str
    deleted_at: datetime
    deleted_by: Annotated[str, Of("deleted_by_name")]
    until: datetime
    put_back_at: datetime | None
    put_back_by: Annotated[str, TextOrNull(), Of("put_back_by_name")]


class DeletedList(View):
    """What of a job was deleted and may be put back."""

    deleted: Annotated[tuple[DeletedPart, ...], Of(itself)]


SHAPES = answer_shapes(DeletedPart, DeletedList)
