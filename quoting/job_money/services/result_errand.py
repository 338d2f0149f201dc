from quoting.job_money.papers.job_result import JobResultPaper
from quoting.platform.errands.services.errand_kinds import Claim, errand_kind
from quoting.platform.papers.models import PaperKind
from quoting.platform.papers.paper_errand import MadePaper, PaperErrand, add_paper
from quoting.platform.papers.papers import RENDER_JOB_RESULT


@errand_kind(RENDER_JOB_RESULT)
class RenderJobResult(PaperErrand):
    """The result of a job as it was when asked for."""

    doing = "Setting the result in type"
    of = JobResultPaper

    def store(self, claim: Claim, result: MadePaper) -> None:
        add_paper(claim, result, kind=PaperKind.JOB_RESULT, job_id=claim.payload["job"])
