"""Profile cards. The areas are worked by hand (a rectangle, a right triangle); limits are a made-up maker's."""

from decimal import Decimal

import pytest

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.materials.profiles import ProfileCard, WidthLimit, area_of
from catalog.core.materials.specs import Fact, Material, SpecError

BEVEL = ((0.0, 0.0), (12.7, 0.0), (12.7, 100.0), (0.0, 133.35))
ROWS = (
    WidthLimit(Decimal("88.9"), Decimal("304.8"), None, Decimal("76.2"), Decimal("76.2")),
    WidthLimit(Decimal("152.4"), Decimal("457.2"), Decimal("1219.2"), Decimal("76.2"), Decimal("76.2")),
)
CARD = ProfileCard(
    "Bevel", ("bendable", "template"), ("paint",), "Scarf, glued", BEVEL, ROWS, "The maker's sheet", "maker"
)


def base(width_mm, card=CARD, **facts):
    width = Fact(Decimal(str(width_mm)), "Measured", "firm")
    return Material(
        "B", "Base", "trim", "custom_made", "ft", "piece", None, facts={"width_mm": width, **facts}, profile=card
    )


def test_the_area_of_a_section_is_that_of_its_rectangle_and_triangle():
    # 12.7 x 100 and a right triangle of 12.7 x 33.35 on top of it.
    assert area_of(BEVEL) == pytest.approx(12.7 * 100 + 12.7 * 33.35 / 2)
    assert (CARD.thickness_mm, CARD.width_mm) == (12.7, 133.35)


@pytest.mark.parametrize(("width_mm", "least_mm"), [(88.9, 304.8), (89, 457.2), (152.4, 457.2)])
def test_the_narrowest_row_that_reaches_the_width_holds(width_mm, least_mm):
    assert base(width_mm).trim_limit("least_radius_mm").number == pytest.approx(least_mm)


def test_past_the_table_and_where_a_row_is_silent_there_is_no_limit():
    assert base(160).trim_limit("least_radius_mm") is None
    assert base(80).trim_limit("hard_least_radius_mm") is None


def test_a_figure_of_the_profile_itself_goes_before_the_table():
    own = Fact(Decimal("900"), "Bent in the shop", "firm")
    assert base(140, least_radius_mm=own).trim_limit("least_radius_mm") is own


def test_a_limit_of_the_table_names_the_table_and_its_row():
    limit = base(140).trim_limit("least_radius_mm")
    assert limit.source.startswith("The maker's sheet, for widths to 6")
    assert limit.sure == "maker"


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"section": ((0.0, 0.0), (1.0, 0.0))}, "3 to 200 corners"),
        ({"section": ((0.0, 0.0), (5.0, 0.0), (9.0, 0.0))}, "enclose nothing"),
        ({"section": ((2.0, 0.0), (5.0, 0.0), (5.0, 9.0))}, "on the back"),
        ({"section": ((0.0, float("nan")), (5.0, 0.0), (5.0, 9.0))}, "corner 1"),
        ({"section": ((0.0, -1.0), (5.0, 0.0), (5.0, 9.0))}, "corner 1"),
        ({"limits": ROWS[::-1]}, "narrowest to the widest"),
        ({"limits_source": " "}, "who states the table"),
        ({"forms": ("stock", "stock")}, "each is named once"),
        ({"grades": ("gilt",)}, "'gilt' is not one of paint, stain"),
    ],
)
def test_a_card_that_cannot_be_is_refused_in_words(change, message):
    given = {name: getattr(CARD, name) for name in CARD.__dataclass_fields__} | change
    with pytest.raises(SpecError, match=message):
        ProfileCard(**given)


def test_only_a_trim_carries_a_card():
    with pytest.raises(SpecError, match="a stud has no profile card"):
        Material("S", "Stud", "stud", "stocked", "each", "stick", None, profile=CARD)


def test_a_card_reads_back_as_it_was_written():
    assert read(ProfileCard, Reader(write(CARD), bare_unit="in")) == CARD


@pytest.mark.parametrize(
    ("document", "path"),
    [
        ({"forms": ["stock", "cast"]}, "profile.forms[1]"),
        ({"section": [["0 mm", "0 mm"], ["1 mm"]]}, "profile.section[1]"),
        ({"limits": [{"least_radius": "18 in"}]}, "profile.limits[0].to_width"),
        ({"limits": [{"to_width": "6 in", "flex": "3 in"}]}, "profile.limits[0].flex"),
        ({"shade": "white"}, "profile.shade"),
    ],
)
def test_a_wrong_entry_of_a_card_is_named_by_its_place(document, path):
    with pytest.raises(DocumentError) as refused:
        read(ProfileCard, Reader(document, "profile"))
    assert path in [complaint.path for complaint in refused.value.complaints]
