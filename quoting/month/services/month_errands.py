"""The errand that makes the paper of a month."""

from typing import ClassVar

from quoting.month.papers.month_sheet import MonthPaper
from quoting.platform.errands.services.errand_kinds import Claim, ErrandRefused, errand_kind
from quoting.platform.papers.models import PaperKind
from quoting.platform.papers.paper_documents import read_paper
from quoting.platform.papers.paper_errand import HOPELESS, MadePaper, add_paper, keep
from quoting.platform.papers.papers import RENDER_MONTH
from quoting.platform.papers.typeset import paper_pdf


@errand_kind(RENDER_MONTH)
class RenderMonth:
    """The month as it was when the paper was asked for."""

    time_limit_s: ClassVar[int] = 180

    def work(self, claim: Claim) -> MadePaper:
        claim.say("Setting the month in type", 10)
        try:
            paper = read_paper(MonthPaper, claim.payload["paper"])
            return keep(claim, paper.title, paper_pdf(paper))
        except HOPELESS as error:
            raise ErrandRefused(str(error)) from error

    def store(self, claim: Claim, result: MadePaper) -> None:
        add_paper(claim, result, kind=PaperKind.MONTH)
