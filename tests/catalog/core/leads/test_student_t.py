"""Student's t against scipy.stats.t and the usual printed table."""

import math

import pytest
from scipy import stats

from catalog.core.leads.student_t import ShareError, student_t_quantile

DEGREES = (*range(1, 41), 101, 1000)
SHARES = (0.0001, 0.01, 0.3, 0.5, 0.75, 0.9, 0.95, 0.995, 0.9999)


def test_quantiles_are_those_of_scipy() -> None:
    for degrees in DEGREES:
        for share in SHARES:
            expected = stats.t.ppf(share, degrees)
            assert student_t_quantile(share, degrees) == pytest.approx(expected, rel=1e-9, abs=1e-12)


# The printed table of one-sided 90 % points, as in NIST/SEMATECH e-Handbook 1.3.6.7.2 (figures from memory,
# and as scipy gives them).
@pytest.mark.parametrize(("degrees", "printed"), [(1, 3.078), (6, 1.440), (9, 1.383), (14, 1.345), (30, 1.310)])
def test_quantiles_are_those_of_the_printed_table(degrees: int, printed: float) -> None:
    assert round(student_t_quantile(0.90, degrees), 3) == printed


@pytest.mark.parametrize(("share", "degrees"), [(0.0, 6), (1.0, 6), (math.nan, 6), (0.9, 0), (0.9, True)])
def test_what_is_out_of_range_is_refused(share: float, degrees: int) -> None:
    with pytest.raises(ShareError):
        student_t_quantile(share, degrees)
