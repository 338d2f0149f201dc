"""What is declared once: read, written and described. The schemas are judged by the general library jsonschema."""

import math
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Annotated, Any, ClassVar, Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from catalog.core.ground.declared import (
    Amount,
    As,
    Constant,
    Exact,
    Length,
    Measured,
    Money,
    Number,
    Of,
    OneOf,
    Schemas,
    Text,
    View,
    Whole,
    read,
    write,
)
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.refusal import EntryError, InvalidValue

Size = Literal["small", "large"]
PARTS = {
    "money": {"type": ["string", "number"], "minimum": 0},
    "length": {"type": ["string", "number"], "minimum": 0},
    "coordinate": {"type": ["string", "number"]},
    "day": {"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"},
}


@dataclass(frozen=True)
class Lid:
    """What closes a crate."""

    width_mm: Annotated[float, Length(), "Across."]

    def __post_init__(self) -> None:
        if self.width_mm > 1000:
            raise EntryError("width", "is more than a crate has: at most 1,000 mm")


@dataclass(frozen=True)
class Straight:
    """A straight part."""

    shape: ClassVar[Annotated[str, Constant("straight"), "Straight."]] = "straight"
    offset_mm: Annotated[float, Length(signed=True), "Aside."] = 0.0


@dataclass(frozen=True)
class Bent:
    """A bent part."""

    shape: Annotated[str, Constant("bent"), "Bent."]
    radius_mm: Annotated[float, Length(), "Of the bend."]


@dataclass(frozen=True)
class Crate:
    """A crate as it is bought."""

    code: Annotated[str, Text(longest=5), "What it is called."]
    price: Annotated[Decimal, Money(), "Of one."]
    size: Annotated[Size, "How large."] = "small"
    holds: Annotated[int, Whole(1, 40), "Bottles."] = 12
    share: Annotated[Decimal | None, Number("0", "1"), "Of glass.", As(left_out=True)] = None
    since: Annotated[date | None, "First day."] = None
    lids: Annotated[tuple[Lid, ...], "Its lids."] = ()
    sides: Annotated[tuple[Annotated[Straight | Bent, OneOf("shape", (Straight, Bent))], ...], "Its sides."] = ()
    seen_by: Annotated[str, As(aside=True)] = ""
    most: ClassVar[int] = 3

    def __post_init__(self) -> None:
        if len(self.lids) > self.most:
            raise InvalidValue(f"a crate has at most {self.most} lids")


WHOLE: dict[str, Any] = {
    "code": "C-1",
    "price": "12.50",
    "size": "large",
    "holds": 20,
    "share": "0.4",
    "since": "2026-10-05",
    "lids": [{"width": "381 mm"}],
    "sides": [{"shape": "straight", "offset": "-4 mm"}, {"shape": "bent", "radius": "900 mm"}],
}


def problems_of(document: dict[str, Any]) -> list[str]:
    with pytest.raises(DocumentError) as refusal:
        read(Crate, Reader(document, "crates[2]"))
    return [str(problem) for problem in refusal.value.complaints]


def validator() -> Draft202012Validator:
    schemas = Schemas("#/$defs/")
    root = schemas.declared(Crate)
    return Draft202012Validator({**root, "$defs": {**PARTS, **schemas.made}})


def test_what_is_read_is_written_the_same():
    crate = read(Crate, Reader(WHOLE), seen_by="Ines")
    assert (crate.lids, crate.sides[1], crate.seen_by) == ((Lid(381.0),), Bent("bent", 900.0), "Ines")
    assert write(crate) == WHOLE


def test_what_is_left_out_or_null_takes_its_default():
    crate = read(Crate, Reader({"code": "C", "price": 3, "holds": None, "lids": None}))
    assert crate == Crate("C", Decimal("3.00"))
    assert "share" not in write(crate)


def test_every_complaint_comes_at_once_with_its_path():
    wrong = {"code": "too long", "size": "huge", "holds": 41, "lids": [{"width": 1}, {"width": "40 ft"}, {}], "x": 1}
    assert problems_of(wrong) == [
        "crates[2].code: is 8 characters long; at most 5",
        "crates[2].price: is missing",
        'crates[2].size: "huge" is not one of small, large',
        "crates[2].holds: 41 must be from 1 to 40",
        "crates[2].lids[1].width: is more than a crate has: at most 1,000 mm",
        "crates[2].lids[2].width: is missing",
        "crates[2].x: is not a name known here",
    ]


def test_what_the_class_refuses_is_said_of_the_object():
    assert problems_of(WHOLE | {"lids": [{"width": 1}] * 4}) == ["crates[2]: a crate has at most 3 lids"]


def test_one_of_several_is_known_by_its_word():
    assert problems_of(WHOLE | {"sides": [{"shape": "wavy"}, {"shape": "bent"}]}) == [
        'crates[2].sides[0].shape: "wavy" is not one of straight, bent',
        "crates[2].sides[1].radius: is missing",
    ]


@given(
    st.dictionaries(
        st.sampled_from([*WHOLE, "x"]),
        st.one_of(st.none(), st.text(max_size=8), st.integers(-5, 50), st.sampled_from(list(WHOLE.values()))),
    )
)
def test_the_schema_takes_whatever_the_reader_takes(changed):
    document = WHOLE | changed
    try:
        read(Crate, Reader(document))
    except DocumentError:
        return
    assert [error.message for error in validator().iter_errors(document)] == []


@pytest.mark.parametrize("name", ["code", "price"])
def test_the_schema_misses_what_is_needed(name):
    assert not validator().is_valid({key: value for key, value in WHOLE.items() if key != name})


def test_the_schema_describes_every_property_and_bound():
    schemas = Schemas("#/$defs/")
    schemas.declared(Crate)
    crate = schemas.made["crate"]
    assert crate["description"] == "A crate as it is bought."
    assert crate["properties"]["holds"] == {
        "description": "Bottles.",
        "type": ["integer", "string", "null"],
        "minimum": 1,
        "maximum": 40,
        "minLength": 1,
        "maxLength": 20,
        "default": 12,
    }
    assert crate["required"] == ["code", "price"] and set(schemas.made) == {"crate", "lid", "straight", "bent"}


@dataclass(frozen=True)
class CrateRow:
    """A crate as it is answered."""

    name: str
    cost: Annotated[Decimal | None, Amount(), As(withheld="costs")]
    height_mm: Annotated[float, Measured()]
    notes: tuple[str, ...] = field(default=())


def test_an_answer_shows_lengths_for_people_and_no_cost_to_those_who_may_not_see_it():
    row = CrateRow("A", Decimal("3"), 304.8)
    assert write(row, system="imperial") == {
        "name": "A",
        "cost": "3.00",
        "height": {"mm": 304.8, "in": 12.0, "text": "1' 0\""},
        "notes": [],
    }
    assert "cost" not in write(row, withheld=("costs",))


def test_the_schema_of_an_answer_needs_all_but_what_is_withheld():
    made = Schemas("#/components/schemas/", camel=True, answers=True).add([CrateRow])
    assert made["CrateRow"]["required"] == ["name", "height", "notes"]
    assert made["CrateRow"]["properties"]["height"] == {"$ref": "#/components/schemas/Length"}
    assert made["CrateRow"]["properties"]["cost"]["type"] == ["string", "null"]


@dataclass(frozen=True)
class Plank(View):
    """A plank of a crate."""

    side_index: int
    bend_rad: float
    width_mm: float


class WayShown(View):
    """A way to open one."""

    words: Annotated[str, Of(lambda way, crate: f"{way} {crate.code}")]


class CrateShown(View):
    """A crate as people see it."""

    is_whole = True
    called: Annotated[str, Of("code")]
    first_lid: Annotated[float | None, Measured(), Of(lambda crate: crate.lids[0].width_mm if crate.lids else None)]
    planks: Annotated[tuple[Plank, ...], Of(lambda crate: (Plank(0, math.pi, 25.4),))]
    ways: Annotated[tuple[WayShown, ...], Of(lambda crate: ("open",))]


def test_a_view_shows_a_value_in_the_words_and_units_of_an_answer():
    crate = Crate("C-1", Decimal(1))
    assert write(crate, CrateShown) == {
        "called": "C-1",
        "first_lid": None,
        "planks": [{"side": 1, "bend_deg": 180.0, "width": {"mm": 25.4, "in": 1.0, "text": "25.4 mm"}}],
        "ways": [{"words": "open C-1"}],
    }


def test_the_schema_of_a_view_is_that_of_what_it_writes():
    made = Schemas("#/components/schemas/", camel=True, answers=True).add([CrateShown])
    assert made["Plank"]["properties"] == {
        "side": {"type": "integer"},
        "bend_deg": {"type": "number"},
        "width": {"$ref": "#/components/schemas/Length"},
    }
    assert made["CrateShown"]["required"] == ["called", "first_lid", "planks", "ways"]


class SizeShown(View):
    """How much a crate holds."""

    size: str
    holds: int


class StackShown(View):
    """A crate with what stands on it."""

    above: Annotated[SizeShown | None, Of(lambda stack: stack[1]), As(spread=True)]
    code: Annotated[str, Of(lambda stack: stack[0].code)]


def test_what_is_spread_stands_among_the_properties_around_it():
    crate = Crate("C-1", Decimal(1), holds=6)
    assert write((crate, crate), StackShown) == {"size": "small", "holds": 6, "code": "C-1"}
    assert write((crate, None), StackShown) == {"size": None, "holds": None, "code": "C-1"}
    made = Schemas("#/components/schemas/", camel=True, answers=True).add([StackShown])
    assert made["StackShown"]["properties"]["holds"] == {"type": ["integer", "null"]} and list(made) == ["StackShown"]


def test_a_view_shows_a_value_that_has_a_document_of_its_own_form():
    @dataclass(frozen=True)
    class Written:
        code: str

        def to_document(self) -> dict[str, Any]:
            return {"another": "form"}

    class WrittenShown(View):
        code: str

    assert (write(Written("A"), WrittenShown), write(Written("A"))) == ({"code": "A"}, {"another": "form"})


@dataclass(frozen=True)
class LidOf:
    """A lid and what it is for."""

    crate: str
    lid: Annotated[Lid, As(spread=True)]


def test_what_is_spread_is_read_and_written_among_the_fields_around_it():
    document = {"crate": "C-1", "width": "381 mm"}
    assert read(LidOf, Reader(document)) == LidOf("C-1", Lid(381.0))
    assert write(LidOf("C-1", Lid(381.0))) == document
    with pytest.raises(DocumentError) as refusal:
        read(LidOf, Reader({"width": "40 ft", "size": 1}, "lids[1]"))
    assert [problem.path for problem in refusal.value.complaints] == ["lids[1].crate", "lids[1].width", "lids[1].size"]


@dataclass(frozen=True)
class Sum:
    """A sum that is kept."""

    amount: Annotated[Decimal, Exact()]


@pytest.mark.parametrize("text", ["282.00", "-0.50", "1000"])
def test_a_figure_that_is_kept_reads_back_with_its_zeros(text):
    # Decimals of equal value are equal whatever their zeros, so the text decides.
    assert str(read(Sum, Reader({"amount": text})).amount) == text
