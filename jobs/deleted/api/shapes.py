"""What was deleted as the API says it."""

from typing import Any

from quoting.platform.api.parts import MOMENT, TEXT, WHOLE, many, one_of, or_none, ref, thing

SHAPES: dict[str, Any] = {
    "DeletedPart": thing(
        "A part of a job that was deleted. until: put back by then, or it is gone.",
        id=WHOLE,
        kind=one_of("wall", "item", "order", "change"),
        key=TEXT,
        name=TEXT,
        deleted_at=MOMENT,
        deleted_by=TEXT,
        until=MOMENT,
        put_back_at=or_none(MOMENT),
        put_back_by=or_none(TEXT),
    ),
    "DeletedList": thing("", deleted=many(ref("DeletedPart"))),
}
