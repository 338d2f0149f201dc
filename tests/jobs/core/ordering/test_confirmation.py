"""A confirmation beside the order. The figures are invented; what is a difference stands in the feature list
(quantity, length, radius, price, date), the tolerance is the firm's own."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from jobs.core.measure.curve import CurvePiece
from jobs.core.ordering.confirmation import (
    Asked,
    ConfirmationError,
    Confirmed,
    Tolerances,
    compare,
    line_of_radius,
)
from jobs.core.ordering.order_lines import OrderStatement, StatedRadius, StatedRun

FACE = "back of the piece, on the left finished face"
RUN = StatedRun(
    "Screen", "Base", "Base 5-1/4 (BASE)", "133.4 mm x 15.9 mm", "paint", "At the floor", "true arc",
    (StatedRadius(1, "concave", 1524.0, FACE, 2400.0),), (2438.4, 2438.4, 1219.2), 2, False, (), (),
)  # fmt: skip
ASKED = Asked(
    OrderStatement("BASE", "Base 5-1/4 (BASE)", Decimal(3), "pieces", (), (RUN,)), Decimal("612.40"), date(2027, 8, 6)
)
AS_ASKED = Confirmed(Decimal(3), (2438.4, 2438.4, 1219.2), (1524.0,), FACE, Decimal("612.40"), date(2027, 8, 6))

# 1/16 in, nothing of the price, no day: the starting figures of a firm.
WITHIN = Tolerances(1.5875, 1.5875, Decimal(0), 0)


def differing(confirmed: Confirmed, request: Asked = ASKED) -> list[str]:
    return [difference.compared for difference in compare(request, confirmed, "metric", WITHIN).differences]


def test_a_confirmation_as_ordered_agrees_and_leaves_nothing_unsaid() -> None:
    comparison = compare(ASKED, AS_ASKED, "metric", WITHIN)
    assert comparison.agrees and comparison.not_said == ()


@pytest.mark.parametrize(
    ("otherwise", "compared"),
    [
        ({"quantity": Decimal(2)}, "quantity"),
        ({"lengths_mm": (2438.4, 2438.4)}, "lengths"),
        ({"lengths_mm": (2438.4, 2438.4, 1200.0)}, "lengths"),
        ({"radii_mm": (1511.3,)}, "radius"),
        ({"radius_face": "front of the piece"}, "face"),
        ({"amount": Decimal("612.41")}, "price"),
        ({"promised_on": date(2027, 8, 9)}, "date"),
    ],
)
def test_each_difference_is_named_alone(otherwise: dict[str, object], compared: str) -> None:
    assert differing(replace(AS_ASKED, **otherwise)) == [compared]  # type: ignore[arg-type]


def test_the_order_of_pieces_a_sixteenth_and_an_earlier_day_are_no_difference() -> None:
    near = replace(AS_ASKED, lengths_mm=(1219.0, 2438.8, 2438.4), radii_mm=(1524.4,), promised_on=date(2027, 8, 2))
    assert differing(near) == []


def test_the_sentence_says_how_much_more_and_how_many_days_too_late() -> None:
    differences = compare(
        ASKED, replace(AS_ASKED, amount=Decimal(700), promised_on=date(2027, 8, 9)), "metric", WITHIN
    ).differences
    assert [difference.sentence for difference in differences] == [
        "Price: 612.40 ordered, 700.00 confirmed, 87.60 more.",
        "At the dock: needed by Fri 6 Aug 2027, Mon 9 Aug 2027 confirmed, 3 calendar days too late.",
    ]


@pytest.mark.parametrize(
    ("needed", "quoted", "text"),
    [
        # In the worked example the dock date and the quoted day are both 6 August 2027.
        (
            date(2027, 8, 6),
            date(2027, 8, 10),
            "needed by Fri 6 Aug 2027, quoted Tue 10 Aug 2027, Mon 9 Aug 2027 confirmed, 3 calendar",
        ),
        (
            date(2027, 8, 11),
            date(2027, 8, 6),
            "quoted Fri 6 Aug 2027, Mon 9 Aug 2027 confirmed, 3 calendar days later than quoted and",
        ),
        (
            None,
            date(2027, 8, 8),
            "At the dock: quoted Sun 8 Aug 2027, Mon 9 Aug 2027 confirmed, 1 calendar day later than quoted.",
        ),
        (date(2027, 8, 9), date(2027, 8, 9), ""),
    ],
)
def test_a_promised_day_stands_beside_the_day_of_need_and_the_quoted_one(needed, quoted, text) -> None:  # type: ignore[no-untyped-def]
    request = replace(ASKED, dock_by=needed, quoted_on=quoted)
    differences = compare(request, replace(AS_ASKED, promised_on=date(2027, 8, 9)), "metric", WITHIN).differences
    assert bool(differences) is bool(text) and all(text in difference.sentence for difference in differences)


def test_what_is_not_confirmed_is_said_and_is_no_difference() -> None:
    comparison = compare(ASKED, Confirmed(), "metric", WITHIN)
    assert comparison.agrees and len(comparison.not_said) == 6


def test_a_price_nobody_knew_is_a_difference_and_never_nought() -> None:
    assert differing(AS_ASKED, replace(ASKED, amount=None)) == ["price"]


@pytest.mark.parametrize(
    ("wrong", "text"),
    [
        ({"quantity": Decimal(0)}, "quantity"),
        ({"amount": Decimal("-0.01")}, "amount"),
        ({"lengths_mm": (0.0,)}, "lengths_mm: figure 1"),
        ({"radii_mm": (1524.0, float("nan"))}, "radii_mm: figure 2"),
    ],
)
def test_a_figure_that_cannot_be_is_refused_by_name(wrong: dict[str, object], text: str) -> None:
    with pytest.raises(ConfirmationError) as refusal:
        Confirmed(**wrong)  # type: ignore[arg-type]
    assert text in f"{refusal.value.field}: {refusal.value.reason}"


@pytest.mark.parametrize(
    ("within", "beyond"),
    [
        # A sixteenth of an inch is 1.5875 mm.
        ({"lengths_mm": (2438.4, 2438.4, 1220.7)}, {"lengths_mm": (2438.4, 2438.4, 1220.9)}),
        ({"radii_mm": (1525.5,)}, {"radii_mm": (1525.7,)}),
        # A hundredth of 612.40 is 6.12.
        ({"amount": Decimal("618.52")}, {"amount": Decimal("618.53")}),
        # Quoted for Thu 5 August, in time till Fri 6.
        ({"promised_on": date(2027, 8, 6)}, {"promised_on": date(2027, 8, 7)}),
    ],
)
def test_what_lies_within_the_firms_tolerance_is_no_difference(within, beyond) -> None:  # type: ignore[no-untyped-def]
    request, loose = replace(ASKED, quoted_on=date(2027, 8, 5)), Tolerances(1.5875, 1.5875, Decimal("0.01"), 2)
    assert compare(request, replace(AS_ASKED, **within), "metric", loose).agrees
    assert not compare(request, replace(AS_ASKED, **beyond), "metric", loose).agrees


@pytest.mark.parametrize(("turn", "radius_mm", "line"), [(1, 950.0, "left_framing"), (-1, 1062.7, "left_finished")])
def test_a_radius_that_is_another_lines_is_known_by_that_line(turn: int, radius_mm: float, line: str) -> None:
    # 1,000 mm at the centre: 50 mm to the framing and 12.7 more to the finish, less on the side it turns to.
    off = {"centre": 0.0, "left_framing": 50.0, "left_finished": 62.7, "right_framing": -50.0, "right_finished": -62.7}
    piece = CurvePiece(0, turn, 1000.0, 1.0, 1000.0, 0.0, (0.0, 0.0), 0.0, 0.0)
    assert line_of_radius(piece, off, radius_mm, 1.5875) == line  # type: ignore[arg-type]
    assert line_of_radius(piece, off, 970.0, 1.5875) is None  # type: ignore[arg-type]
    differences = compare(
        ASKED, replace(AS_ASKED, radii_mm=(radius_mm,), radius_lines=(line,)), "metric", WITHIN
    ).differences
    assert f"mm is the radius of the {line.replace('_', ' ')} face" in differences[0].sentence
