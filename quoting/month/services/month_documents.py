"""All of a month as one document: the page, its paper, the API and the close show and keep the same."""

from contextlib import nullcontext
from datetime import date

from catalog.core.ground.declared import Document, write
from quoting.core.money.month import last_day
from quoting.month.models import CauseSentence
from quoting.month.services.collecting import to_collect
from quoting.month.services.month_jobs import jobs_of
from quoting.month.services.month_shown import MonthFigures, MonthRead
from quoting.platform.read_once import is_of_a_page, one_page


def month_document(month: date, today: date) -> Document:
    """As it is known today, by what happened until the month's end."""
    # What several parts of it read alike, such as the firm, is read once.
    with nullcontext() if is_of_a_page() else one_page():
        until = min(last_day(month), today)
        said = dict(CauseSentence.objects.filter(month=month).values_list("job", "text"))
        read = MonthRead(month, today, until, jobs_of(month, today), to_collect(until), said)
        return write(read, MonthFigures)
