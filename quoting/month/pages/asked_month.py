"""The month an address names, as 2027-05."""

import re
from datetime import date

from django.http import Http404

_MONTH = re.compile(r"(20[0-9]{2})-(0[1-9]|1[0-2])")


def month_or_404(text: str) -> date:
    match = _MONTH.fullmatch(text)
    if match is None:
        raise Http404("A month is named by its year and number, such as 2027-05.")
    return date(int(match[1]), int(match[2]), 1)


def month_key(month: date) -> str:
    return f"{month:%Y-%m}"
