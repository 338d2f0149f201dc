"""Three closed jobs, worked by hand in Decimal: trim by the foot, boards on a curve, waste of board."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.core.money.learning import ClosedJob, Lesson, lesson, shrunk_factor

TOLERANCE = Decimal("0.0001")


def learnt(was: str, *pairs: tuple[str, str]) -> Lesson:
    """pairs: what the standard gives, and what it really took, of jobs K1, K2 ..."""
    jobs = [
        ClosedJob(f"K{place}", date(2027, 1, place), Decimal(gives), Decimal(took))
        for place, (gives, took) in enumerate(pairs, 1)
    ]
    return lesson(Decimal(was), jobs)


TRIM = (("21.70", "26"), ("16.975", "18.5"), ("28.00", "33.5"))  # 62, 48.5 and 80 ft at 0.35 h
CURVE = (("48.048", "55"), ("37.884", "41"), ("64.68", "70.5"))  # 1,040, 820 and 1,400 sq ft at 33 h x 1.40
WASTE = (("1144", "1216"), ("902", "928"), ("1540", "1568"))  # the same, net, with 10 %


@pytest.mark.parametrize(
    ("was", "pairs", "suggested", "typical", "error_was", "error"),
    [
        ("0.35", TRIM, "0.3827", "0.4061", "11.33", "6.45"),
        ("1.40", CURVE, "1.4867", "1.5474", "15.89", "8.15"),
        ("1.10", WASTE, "1.1239", "1.1401", "126.00", "73.47"),
    ],
)
def test_three_jobs_teach_a_standard(
    was: str, pairs: tuple[tuple[str, str], ...], suggested: str, typical: str, error_was: str, error: str
) -> None:
    result = learnt(was, *pairs)
    assert abs(result.value - Decimal(suggested)) <= TOLERANCE
    assert abs(result.typical - Decimal(typical)) <= TOLERANCE
    assert abs(result.error_was - Decimal(error_was)) <= Decimal("0.005") + TOLERANCE
    assert abs(result.error - Decimal(error)) <= Decimal("0.005") + TOLERANCE
    assert result.is_offered


def test_a_job_that_took_more_than_twice_as_long_is_left_out_and_says_why() -> None:
    result = learnt("0.35", *TRIM, ("10.50", "27"))  # 30 ft: 27 / 10.5 = 2.571
    assert [(job.job, why) for job, why in result.left_out] == [("K4", "more than twice the standard")]
    assert result.value == learnt("0.35", *TRIM).value


def test_two_jobs_suggest_nothing() -> None:
    result = learnt("0.35", *TRIM[:2])
    assert (result.is_offered, result.why_not) == (False, "2 of 3 jobs")


def test_jobs_that_scatter_about_the_standard_change_nothing() -> None:
    result = learnt("1", ("10", "13"), ("10", "8"), ("10", "10"))
    assert result.why_not == "the jobs do not foretell each other better"


def test_jobs_exactly_as_the_standard_offer_nothing() -> None:
    assert not learnt("1", ("10", "10"), ("10", "10"), ("10", "10")).is_offered


def test_a_job_left_out_by_name_teaches_nothing() -> None:
    named = ClosedJob("K5", date(2027, 2, 1), Decimal(10), Decimal(11), "a flood")
    result = lesson(Decimal(1), [named])
    assert (result.n, result.left_out) == (0, ((named, "a flood"),))


def test_the_last_eight_jobs_are_used() -> None:
    result = learnt("1", *(("10", "12") for _ in range(10)))
    assert [job.job for job in result.used] == [f"K{place}" for place in range(3, 11)]


RATIOS = st.lists(st.decimals("0.5", "2", places=4), min_size=1, max_size=8)


@given(RATIOS, st.randoms())
def test_the_order_of_jobs_moves_nothing(ratios: list[Decimal], chance: object) -> None:
    jobs = [ClosedJob(f"K{n}", date(2027, 1, 1 + n % 3), Decimal(7), 7 * amount) for n, amount in enumerate(ratios)]
    mixed = list(jobs)
    chance.shuffle(mixed)  # type: ignore[attr-defined]
    assert lesson(Decimal("0.35"), mixed) == lesson(Decimal("0.35"), jobs)


@given(RATIOS)
def test_a_shrunk_factor_lies_between_one_and_the_mean(ratios: list[Decimal]) -> None:
    product = Decimal(1)
    for ratio in ratios:
        product *= ratio
    mean = product ** (Decimal(1) / len(ratios))
    low, high = min(Decimal(1), mean), max(Decimal(1), mean)
    assert low - TOLERANCE <= shrunk_factor(ratios) <= high + TOLERANCE
