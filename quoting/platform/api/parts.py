"""The words the shapes are written with, and what results are made of."""

from typing import Any

Schema = dict[str, Any]

TEXT: Schema = {"type": "string"}
NUMBER: Schema = {"type": "number"}
WHOLE: Schema = {"type": "integer"}
FLAG: Schema = {"type": "boolean"}
FIGURE: Schema = {"type": "string", "pattern": r"^-?[0-9]+(\.[0-9]+)?$", "description": "An exact figure, as text."}
MONEY: Schema = {"type": "string", "pattern": r"^-?[0-9]+\.[0-9]{2}$", "description": "Money with two places."}
MOMENT: Schema = {"type": "string", "format": "date-time"}
DAY: Schema = {"$ref": "#/components/schemas/Day"}
VERSION: Schema = {"type": "integer", "minimum": 1, "description": "Rises with every change; the ETag holds it."}


def ref(name: str) -> Schema:
    return {"$ref": f"#/components/schemas/{name}"}


def or_none(schema: Schema) -> Schema:
    return {"anyOf": [schema, {"type": "null"}]}


def many(schema: Schema) -> Schema:
    return {"type": "array", "items": schema}


def one_of(*words: str) -> Schema:
    return {"enum": list(words)}


def thing(about: str = "", withheld: tuple[str, ...] = (), /, **properties: Schema) -> Schema:
    """An object that always has every property but those withheld from roles that may not see them.

    A name that ends in an underscore stands for a word of Python.
    """
    named = {name.removesuffix("_"): schema for name, schema in properties.items()}
    return {
        "type": "object",
        **({"description": about} if about else {}),
        "properties": named,
        "required": [name for name in named if name not in withheld],
        "additionalProperties": False,
    }


def page(name: str) -> Schema:
    return thing(
        "",
        (),
        count={"type": "integer", "minimum": 0, "description": "How many there are in all."},
        limit=WHOLE,
        offset=WHOLE,
        results=many(ref(name)),
    )


LENGTH, AREA, WHY = ref("Length"), ref("Area"), ref("Why")

PARTS: Schema = {
    "Length": thing("A length three ways; `text` is for people.", mm=NUMBER, in_=NUMBER, text=TEXT),
    "Area": thing("An area two ways.", m2=NUMBER, sqft=NUMBER),
    "Why": thing(
        "Why a figure is what it is.",
        rule=TEXT,
        inputs=many(thing("", label=TEXT, value=TEXT)),
        source=TEXT,
        rules=TEXT,
    ),
    "Finding": thing(
        "A sentence somebody must read.",
        key=TEXT,
        weight=one_of("gap", "decide", "caution", "note"),
        sentence=TEXT,
        source=TEXT,
        compared=or_none(NUMBER),
    ),
    "Override": thing(
        "A named person's decision beside the computed answer.",
        key=TEXT,
        reason=TEXT,
        by=TEXT,
        on=DAY,
        value=or_none(NUMBER),
        original=or_none(NUMBER),
    ),
    "Problem": thing(
        "What went wrong: problem details by RFC 9457.",
        ("errors",),
        type={**TEXT, "description": "about:blank: the status says what kind it is."},
        title={**TEXT, "description": "The status in words."},
        status=WHOLE,
        detail={**TEXT, "description": "A sentence: the reason, or the first of them."},
        errors={
            "description": "Every reason found in what was sent or stops it, each with the place it is about.",
            **many(
                thing(
                    "",
                    path={**TEXT, "description": "Such as walls[0].pieces[1].chord; empty for the whole."},
                    reason={**TEXT, "description": "A sentence with the value given and what would be right."},
                )
            ),
            "minItems": 1,
        },
    ),
}

IDENTITY: Schema = {"type": "integer", "minimum": 1}
NEEDED_TEXT: Schema = {"type": "string", "pattern": r"\S"}
REASON: Schema = {"type": "string", "maxLength": 2000}


def given(about: str, needed: tuple[str, ...], **properties: Schema) -> Schema:
    return thing(about, **properties) | {"required": list(needed)}


WENT_BY = "`went_by` folder or log: kept on the machine, and not sent."
