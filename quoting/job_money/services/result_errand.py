from typing import ClassVar

from quoting.job_money.papers.job_result import JobResultPaper
from quoting.platform.errands.services.errand_kinds import Claim, ErrandRefused, errand_kind
from quoting.platform.papers.models import PaperKind
from quoting.platform.papers.paper_documents import read_paper
from quoting.platform.papers.paper_errand import HOPELESS, MadePaper, add_paper, keep
from quoting.platform.papers.papers import RENDER_JOB_RESULT
from quoting.platform.papers.typeset import paper_pdf


@errand_kind(RENDER_JOB_RESULT)
class RenderJobResult:
    """The result of a job as it was when asked for."""

    time_limit_s: ClassVar[int] = 180

    def work(self, claim: Claim) -> MadePaper:
        claim.say("Setting the result in type", 10)
        try:
            paper = read_paper(JobResultPaper, claim.payload["paper"])
            return keep(claim, paper.title, paper_pdf(paper))
        except HOPELESS as error:
            raise ErrandRefused(str(error)) from error

    def store(self, claim: Claim, result: MadePaper) -> None:
        add_paper(claim, result, kind=PaperKind.JOB_RESULT, job_id=claim.payload["job"])
