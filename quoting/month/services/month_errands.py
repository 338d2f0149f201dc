"""The errand that makes the paper of a month."""

from quoting.month.papers.month_sheet import MonthPaper
from quoting.platform.errands.services.errand_kinds import Claim, errand_kind
from quoting.platform.papers.models import PaperKind
from quoting.platform.papers.paper_errand import MadePaper, PaperErrand, add_paper
from quoting.platform.papers.papers import RENDER_MONTH


@errand_kind(RENDER_MONTH)
class RenderMonth(PaperErrand):
    """The month as it was when the paper was asked for."""

    doing = "Setting the month in type"
    of = MonthPaper

    def store(self, claim: Claim, result: MadePaper) -> None:
        add_paper(claim, result, kind=PaperKind.MONTH)
