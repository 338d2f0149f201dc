"""The background work of this service. Each kind registers itself as this module is loaded at start-up."""

from typing import ClassVar

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
from quoting.job_money.services.result_errand import RenderJobResult  # noqa: F401 - registers itself
from quoting.month.services.month_errands import RenderMonth  # noqa: F401 - registers itself
from quoting.payment_requests.services.request_errands import (  # noqa: F401 - register themselves
    MailRequest,
    RenderRequest,
    RenderStatement,
)
from quoting.platform.errands.services.errand_kinds import Claim, ErrandRefused, errand_kind
from quoting.platform.papers.models import PaperKind
from quoting.platform.papers.paper_documents import read_paper
from quoting.platform.papers.paper_errand import HOPELESS, MadePaper, add_paper, keep
from quoting.platform.papers.papers import (
    RENDER_CERTIFICATE,
    RENDER_CHANGE_NOTE,
    RENDER_FULL_SIZE,
    RENDER_ORDER_DATES,
    RENDER_QUOTE,
    RENDER_SITE_SHEET,
)
from quoting.platform.papers.typeset import paper_pdf
from quoting.quotes.models import ClientAnswer, QuoteRevision
from quoting.quotes.services.certificate import certificate_paper
from quoting.quotes.services.snapshots import frozen_paper


@errand_kind(RENDER_QUOTE)
class RenderQuote:
    """The paper of a revision, from what was frozen with it: the same content whenever it runs."""

    time_limit_s: ClassVar[int] = 180

    def work(self, claim: Claim) -> MadePaper:
        claim.say("Setting the quotation in type", 10)
        revision = QuoteRevision.objects.select_related("quote").get(pk=claim.payload["revision"])
        try:
            paper = frozen_paper(revision)
            return keep(claim, paper.title, paper_pdf(paper, images_of(paper.walls)))
        except HOPELESS as error:
            raise ErrandRefused(str(error)) from error

    def store(self, claim: Claim, result: MadePaper) -> None:
        revision = QuoteRevision.objects.select_related("quote").get(pk=claim.payload["revision"])
        add_paper(claim, result, kind=PaperKind.QUOTE, job_id=revision.quote.job_id, revision=revision)


@errand_kind(RENDER_CERTIFICATE)
class RenderCertificate:
    """The certificate of an acceptance, from what was frozen with it."""

    time_limit_s: ClassVar[int] = 180

    def work(self, claim: Claim) -> MadePaper:
        claim.say("Setting the certificate in type", 10)
        try:
            paper = certificate_paper(_answer(claim))
            return keep(claim, paper.title, paper_pdf(paper))
        except HOPELESS as error:
            raise ErrandRefused(str(error)) from error

    def store(self, claim: Claim, result: MadePaper) -> None:
        answer = _answer(claim)
        add_paper(claim, result, kind=PaperKind.CERTIFICATE, job_id=answer.quote.job_id, answer=answer)


def _answer(claim: Claim) -> ClientAnswer:
    return ClientAnswer.objects.select_related("quote", "revision__quote").get(pk=claim.payload["answer"])


@errand_kind(RENDER_ORDER_DATES)
class RenderOrderDates:
    """The order dates as they were when asked for."""

    time_limit_s: ClassVar[int] = 180

    def work(self, claim: Claim) -> MadePaper:
        claim.say("Setting the order dates in type", 10)
        try:
            paper = read_paper(OrderDatesPaper, claim.payload["paper"])
            return keep(claim, paper.title, paper_pdf(paper))
        except HOPELESS as error:
            raise ErrandRefused(str(error)) from error

    def store(self, claim: Claim, result: MadePaper) -> None:
        add_paper(claim, result, kind=PaperKind.ORDER_DATES, job_id=claim.payload["job"])


@errand_kind(RENDER_SITE_SHEET)
class RenderSiteSheet:
    """The site sheet as the walls were when it was asked for."""

    time_limit_s: ClassVar[int] = 180

    def work(self, claim: Claim) -> MadePaper:
        claim.say("Setting the site sheet in type", 10)
        try:
            paper = read_paper(SitePaper, claim.payload["paper"])
            return keep(claim, paper.title, paper_pdf(paper, images_of(paper.walls)))
        except HOPELESS as error:
            raise ErrandRefused(str(error)) from error

    def store(self, claim: Claim, result: MadePaper) -> None:
        add_paper(claim, result, kind=PaperKind.SITE_SHEET, job_id=claim.payload["job"])


@errand_kind(RENDER_FULL_SIZE)
class RenderFullSize:
    """A full-size template of an arc as it was when asked for."""

    time_limit_s: ClassVar[int] = 180

    def work(self, claim: Claim) -> MadePaper:
        claim.say("Laying the template out on its sheets", 10)
        try:
            paper = read_paper(FullSizePaper, claim.payload["paper"])
            return keep(claim, paper.title, paper_pdf(paper))
        except HOPELESS as error:
            raise ErrandRefused(str(error)) from error

    def store(self, claim: Claim, result: MadePaper) -> None:
        add_paper(claim, result, kind=PaperKind.FULL_SIZE, job_id=claim.payload["job"])


@errand_kind(RENDER_CHANGE_NOTE)
class RenderChangeNote:
    """The paper of a change note, from what was frozen with it."""

    time_limit_s: ClassVar[int] = 180

    def work(self, claim: Claim) -> MadePaper:
        claim.say("Setting the change note in type", 10)
        note = ChangeNote.objects.select_related("job").get(pk=claim.payload["change_note"])
        try:
            paper = frozen_change_paper(note)
            return keep(claim, paper.title, paper_pdf(paper))
        except HOPELESS as error:
            raise ErrandRefused(str(error)) from error

    def store(self, claim: Claim, result: MadePaper) -> None:
        note = ChangeNote.objects.get(pk=claim.payload["change_note"])
        add_paper(claim, result, kind=PaperKind.CHANGE_NOTE, job_id=note.job_id, change_note=note)
