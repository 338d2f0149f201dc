"""Student's t: how far from the mean a share of cases reaches when the spread itself is only estimated."""

from __future__ import annotations

import math
from functools import lru_cache

from catalog.core.ground.refusal import InvalidValue

MAX_DEGREES = 10_000
_HALVINGS = 64


class ShareError(InvalidValue):
    """A share or a number of degrees of freedom that cannot be used; the message says what would be right."""


@lru_cache(maxsize=512, typed=True)
def student_t_quantile(share: float, degrees: int) -> float:
    """Find the distance from the mean that a share of cases does not pass.

    Args:
        share: from 0.0001 to 0.9999.
        degrees: degrees of freedom, a whole number from 1 to 10,000.

    Returns:
        The distance in standard errors: negative for a share under a half, 0 for a half.

    Raises:
        ShareError: a share or degrees out of range.

    Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.3 and 26.7.4, the finite series for whole
        degrees of freedom, inverted by halving its angle.

    >>> round(student_t_quantile(0.90, 6), 4)
    1.4398
    """
    _check_degrees(degrees)
    if not 0.0001 <= share <= 0.9999:
        raise ShareError(f"A share must be from 0.0001 to 0.9999, not {share}.")
    wanted = abs(2 * share - 1)
    low, high = 0.0, math.pi / 2
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        if _share_within(middle, degrees) < wanted:
            low = middle
        else:
            high = middle
    distance = math.tan((low + high) / 2) * math.sqrt(degrees) if wanted else 0.0
    return distance if share >= 0.5 else -distance


def _share_within(angle: float, degrees: int) -> float:
    """The share of cases nearer to the mean than tan(angle) x sqrt(degrees), on either side."""
    sine, cosine = math.sin(angle), math.cos(angle)
    if degrees == 1:
        return 2 * angle / math.pi
    odd = degrees % 2 == 1
    term = total = cosine if odd else 1.0
    for power in range(3 if odd else 2, degrees - 1, 2):
        term *= (power - 1) / power * cosine * cosine
        total += term
    return 2 / math.pi * (angle + sine * total) if odd else sine * total


def _check_degrees(degrees: int) -> None:
    if isinstance(degrees, bool) or not isinstance(degrees, int) or not 1 <= degrees <= MAX_DEGREES:
        raise ShareError(f"Degrees of freedom are a whole number from 1 to {MAX_DEGREES:,}, not {degrees!r}.")
