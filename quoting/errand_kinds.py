"""The background work of this service. Each kind registers itself as this module is loaded at start-up."""

from collections.abc import Mapping
from typing import Any

from jobs.dates.papers.order_dates import OrderDatesPaper
from jobs.deliveries.services.claim_errands import MailClaim, RenderClaimLetter  # noqa: F401 - register themselves
from jobs.needs.services.date_errands import DateJob, RecomputeDates  # noqa: F401 - register themselves
from jobs.orders.services.order_errands import MailOrder, RenderOrderSheet  # noqa: F401 - register themselves
from jobs.plans.services.plan_errands import PlanBoards, PlanSticks  # noqa: F401 - register themselves
from jobs.site.papers.full_size import FullSizePaper
from jobs.site.papers.site_sheet import SitePaper
from jobs.walls.services.photos import images_of
from quoting.alerts.services.alert_errands import MailAlerts, MailWeekly  # noqa: F401 - register themselves
from quoting.changes.models import ChangeNote
from quoting.changes.services.change_snapshots import frozen_change_paper
from quoting.client.services.mail_errands import MailQuote  # noqa: F401 - registers itself
from quoting.client.services.mails import send_when_ready
from quoting.job_money.papers.job_result import JobResultPaper
from quoting.month.papers.month_sheet import MonthPaper
from quoting.payment_requests.services.request_errands import (  # noqa: F401 - register themselves
    MailRequest,
    RenderRequest,
    RenderStatement,
)
from quoting.platform import clock
from quoting.platform.errands.services.errand_kinds import Claim, errand_kind
from quoting.platform.papers.paper_errand import MadePaper, PaperErrand, add_paper
from quoting.platform.papers.papers import (
    RENDER_CERTIFICATE,
    RENDER_CHANGE_NOTE,
    RENDER_FULL_SIZE,
    RENDER_JOB_RESULT,
    RENDER_MONTH,
    RENDER_ORDER_DATES,
    RENDER_QUOTE,
    RENDER_SITE_SHEET,
)
from quoting.quotes.models import ClientAnswer, QuoteRevision
from quoting.quotes.services.certificate import certificate_paper
from quoting.quotes.services.snapshots import frozen_paper


@errand_kind(RENDER_QUOTE)
class RenderQuote(PaperErrand):
    """The paper of a revision, from what was frozen with it: the same content whenever it runs."""

    doing = "Setting the quotation in type"

    def paper(self, claim: Claim) -> Any:
        return frozen_paper(QuoteRevision.objects.select_related("quote").get(pk=claim.payload["revision"]))

    def images(self, paper: Any) -> Mapping[str, bytes]:
        return images_of(paper.walls)

    def store(self, claim: Claim, result: MadePaper) -> None:
        revision = QuoteRevision.objects.select_related("quote").get(pk=claim.payload["revision"])
        add_paper(claim, result, job_id=revision.quote.job_id, revision=revision)
        send_when_ready(revision, clock.now())


@errand_kind(RENDER_CERTIFICATE)
class RenderCertificate(PaperErrand):
    """The certificate of an acceptance, from what was frozen with it."""

    doing = "Setting the certificate in type"

    def paper(self, claim: Claim) -> Any:
        return certificate_paper(_answer(claim))

    def store(self, claim: Claim, result: MadePaper) -> None:
        answer = _answer(claim)
        add_paper(claim, result, job_id=answer.quote.job_id, answer=answer)


def _answer(claim: Claim) -> ClientAnswer:
    return ClientAnswer.objects.select_related("quote", "revision__quote").get(pk=claim.payload["answer"])


@errand_kind(RENDER_ORDER_DATES)
class RenderOrderDates(PaperErrand):
    """The order dates as they were when asked for."""

    doing = "Setting the order dates in type"
    of = OrderDatesPaper


@errand_kind(RENDER_SITE_SHEET)
class RenderSiteSheet(PaperErrand):
    """The site sheet as the walls were when it was asked for."""

    doing = "Setting the site sheet in type"
    of = SitePaper

    def images(self, paper: Any) -> Mapping[str, bytes]:
        return images_of(paper.walls)


@errand_kind(RENDER_FULL_SIZE)
class RenderFullSize(PaperErrand):
    """A full-size template of an arc as it was when asked for."""

    doing = "Laying the template out on its sheets"
    of = FullSizePaper


@errand_kind(RENDER_CHANGE_NOTE)
class RenderChangeNote(PaperErrand):
    """The paper of a change note, from what was frozen with it."""

    doing = "Setting the change note in type"

    def paper(self, claim: Claim) -> Any:
        return frozen_change_paper(ChangeNote.objects.select_related("job").get(pk=claim.payload["change_note"]))

    def store(self, claim: Claim, result: MadePaper) -> None:
        note = ChangeNote.objects.get(pk=claim.payload["change_note"])
        add_paper(claim, result, job_id=note.job_id, change_note=note)


@errand_kind(RENDER_MONTH)
class RenderMonth(PaperErrand):
    """The month as it was when the paper was asked for."""

    doing = "Setting the month in type"
    of = MonthPaper

    def store(self, claim: Claim, result: MadePaper) -> None:
        add_paper(claim, result)


@errand_kind(RENDER_JOB_RESULT)
class RenderJobResult(PaperErrand):
    """The result of a job as it was when asked for."""

    doing = "Setting the result in type"
    of = JobResultPaper
