"""The firm's stock as the API says it."""

from typing import Any

from quoting.platform.api.parts import FIGURE, MONEY, NEEDED_TEXT, TEXT, WHOLE, given, many, one_of, or_none, ref, thing

Schema = dict[str, Any]
COUNT: Schema = {"type": "integer", "minimum": 1, "maximum": 1000}
FREE: Schema = {"type": ["string", "null"], "maxLength": 200}

SHAPES: Schema = {
    "Stock": thing(
        "Sticks of one length or packs of one kind. job: for which it is set aside, null on the shelf. unit_cost: what "
        "a job is charged for one, null for nothing.",
        id=WHOLE,
        material=TEXT,
        length_mm=or_none(FIGURE),
        pack=TEXT,
        count=WHOLE,
        unit_cost=or_none(MONEY),
        note=TEXT,
        job=or_none(TEXT),
        set_aside_by=TEXT,
    ),
    "StockList": thing("", stock=many(ref("Stock"))),
    "NewStock": given(
        "pack: code of a whole one; else length of an off-cut.",
        ("material", "count"),
        material={**NEEDED_TEXT, "maxLength": 60},
        pack={**FREE, "maxLength": 60},
        length={"type": ["string", "number", "null"]},
        count=COUNT,
        unit_cost=or_none(ref("Money")),
        note=FREE,
    ),
    "StockMove": given(
        "job: its key, to set some aside for it.",
        ("move", "count"),
        move=one_of("set_aside", "put_back", "take_out"),
        count=COUNT,
        job=FREE,
    ),
}
