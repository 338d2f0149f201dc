"""Standards from the record."""

from typing import Any

from quoting.platform.api.parts import DAY, FIGURE, FLAG, NEEDED_TEXT, TEXT, WHOLE, given, many, or_none, thing

STANDARD = {**TEXT, "description": "Its name, or `waste` and the code of a material.", "maxLength": 120}
NEEDED_STANDARD = {**STANDARD, "pattern": r"\S"}
OUT = many(thing("", job=TEXT, reason=TEXT))
REASON = {"type": "string", "pattern": r"\S", "maxLength": 300}
SHAPES: dict[str, Any] = {
    "Learnt": thing(
        "`open_quotes`: those that rest on a figure of the record, or on the one before it.",
        suggested=many(
            thing(
                "`error_was`, `error`: summed absolute errors of the standard, and of the suggestion in the back-test.",
                standard=STANDARD,
                label=TEXT,
                unit={**TEXT, "description": "Of the jobs' figures."},
                was=FIGURE,
                value=FIGURE,
                typical={**FIGURE, "description": "The geometric mean of the jobs."},
                offered=FLAG,
                why_not=TEXT,
                error_was=FIGURE,
                error=FIGURE,
                jobs=many(thing("", job=TEXT, closed_on=DAY, by_standard=FIGURE, actual=FIGURE)),
                left_out=OUT,
            )
        ),
        accepted=many({"$ref": "#/components/schemas/LearntStandard"}),
        open_quotes=many(
            thing("", job=TEXT, revision=WHOLE, rests_on=many(thing("", standard=TEXT, value=FIGURE, former=FLAG)))
        ),
    ),
    "LearntStandard": thing(
        "A standard the owner took from the record.",
        standard=STANDARD,
        was=FIGURE,
        value=FIGURE,
        typical=FIGURE,
        error_was=FIGURE,
        error=FIGURE,
        jobs=many(TEXT),
        left_out=OUT,
        accepted_by=TEXT,
        accepted_on=DAY,
    ),
    "AcceptedStandard": given(
        "",
        ("request_key", "standard", "value"),
        request_key={**NEEDED_TEXT, "maxLength": 100},
        standard=NEEDED_STANDARD,
        value={**FIGURE, "description": "As it was suggested."},
    ),
    "NewLeftOut": given("", ("standard", "job", "reason"), standard=NEEDED_STANDARD, job=NEEDED_TEXT, reason=REASON),
    "LeftOutJob": thing("", standard=STANDARD, job=TEXT, reason=TEXT, by=TEXT),
    "NotLeftOut": given("", ("standard", "job"), standard=NEEDED_STANDARD, job=NEEDED_TEXT),
    "TakenIn": thing("", was_out=FLAG),
    "LeftOver": thing(
        "By code of each board the job ordered; null where nobody counted.",
        left_over={"type": "object", "additionalProperties": or_none(FIGURE)},
    ),
    "NewLeftOver": given(
        "Sheets, by code of the board.",
        ("left_over",),
        left_over={"type": "object", "additionalProperties": or_none(FIGURE)},
    ),
}
