"""Issuing a quote: what is shown becomes what is frozen, or nothing is."""

from collections.abc import Iterable
from datetime import date, datetime

from django.db import transaction
from django.db.models import F

from catalog.core.ground.day_words import day_words
from catalog.core.ground.refusal import Refused
from jobs.core.measure.explanation import RULE_VERSION
from jobs.core.measure.survey import SurveyError
from jobs.jobs.models import Job
from jobs.jobs.services.changes import fact_changed
from jobs.needs.services.small_pictures import pictures_for_client
from jobs.walls.services.photos import paper_photos
from quoting.core.prices.options import Offer
from quoting.core.prices.pricing import PricedQuote
from quoting.core.quotes.quote_sheet import QuoteSheet
from quoting.core.quotes.work_up import WorkUp
from quoting.job_files.services.job_files import figures_mark, job_file_of, work_up_job
from quoting.platform.models.core_values import column_values
from quoting.platform.papers.mark import with_mark
from quoting.platform.people.models import Person
from quoting.pricing.models import MarginApproval
from quoting.pricing.models.shares import split_share
from quoting.pricing.services.least_margin import approval_for
from quoting.quotes.models import (
    Quote,
    QuoteInstalment,
    QuoteLine,
    QuoteRevision,
    QuoteSequence,
    RevisionApproval,
    RevisionState,
)
from quoting.quotes.services.cancellation import rule_in_force, write_rule
from quoting.quotes.services.cancellation_words import window_terms
from quoting.quotes.services.offers import write_offer
from quoting.quotes.services.quote_paper import QuoteHead, quote_paper
from quoting.quotes.services.quote_papers import request_quote_paper
from quoting.quotes.services.revisions import move_revision
from quoting.quotes.services.snapshots import hash_of, snapshot_text

MAX_REQUEST_KEY = 100


class ChangedSinceShown(Refused):
    status = 412
    path = "If-Match"

    def __init__(self) -> None:
        super().__init__(
            "The job, its pricing or the catalog was changed since this quote was shown. Nothing was issued: "
            "look at the figures as they are now, then issue."
        )


def issue_quote(
    job: Job,
    *,
    request_key: str,
    seen_mark: str | None,
    by: Person,
    now: datetime,
    today: date,
) -> QuoteRevision:
    """Freeze the job's quote as its next revision, and ask for its paper.

    request_key: the same for a page shown once, so that asking twice issues once. seen_mark: `figures_mark` of
    what was shown; None asks nothing. today: the day in the firm's time zone.
    Raises Refused, with nothing stored.
    """
    if not 0 < len(request_key) <= MAX_REQUEST_KEY:
        raise Refused(f"A request is named by 1 to {MAX_REQUEST_KEY} characters; ask from a fresh page.")
    issued = _issued_before(job, request_key)
    if issued is not None:
        return issued
    if job.closed_on is not None:
        raise Refused(f"{job} was closed on {day_words(job.closed_on)}; open it again to quote it.")
    # Worked up before the transaction begins: seconds of computing must not keep others from writing.
    work_up = _worked_up(job, today)
    mark = figures_mark(work_up.read, today)
    if seen_mark is not None and seen_mark != mark:
        raise ChangedSinceShown
    sheet, priced = _ready(work_up)
    approval = _second_person(job, sheet, by)
    with transaction.atomic():
        Job.objects.select_for_update().get(pk=job.pk)
        issued = _issued_before(job, request_key)
        if issued is not None:
            return issued
        if figures_mark(job_file_of(_afresh(job), today), today) != mark:
            raise ChangedSinceShown
        revision = _freeze(job, work_up, sheet, priced, request_key, by, now)
        if approval is not None:
            RevisionApproval.objects.create(
                revision=revision, approval=approval, issued_by=by, approved_by_id=approval.by_id
            )
        return revision


def _second_person(job: Job, sheet: QuoteSheet, by: Person) -> MarginApproval | None:
    """Who let the price pass below the least margin: never who issues it. Approvals are only ever added."""
    if sheet.gate is None:
        return None
    approval = approval_for(job, sheet.gate, issuer=by)
    if approval is None:
        raise Refused(
            "The margin is below the firm's least margin, and you approved it yourself. Somebody else approves it, "
            "or issues it."
        )
    return approval


def _afresh(job: Job) -> Job:
    return Job.objects.select_related("client").get(pk=job.pk)


def _issued_before(job: Job, request_key: str) -> QuoteRevision | None:
    revision = QuoteRevision.objects.select_related("quote").filter(request_key=request_key).first()
    if revision is not None and revision.quote.job_id != job.pk:
        raise Refused("This request has issued another job's quote; open the page of this quote again.")
    return revision


def _worked_up(job: Job, today: date) -> WorkUp:
    try:
        return work_up_job(_afresh(job), today)
    except SurveyError as error:
        raise Refused(f"The walls cannot be worked out. {error.field}: {error.reason}") from error


def _ready(work_up: WorkUp) -> tuple[QuoteSheet, PricedQuote]:
    sheet = work_up.quote
    if sheet is None:
        raise Refused("The job is not priced yet: enter how it is priced, then issue.")
    if not work_up.walls:
        raise Refused("The job has no wall yet: enter at least one, then issue.")
    if sheet.blocking:
        raise Refused(*(finding.sentence for finding in sheet.blocking))
    if sheet.priced is None:
        raise Refused("The price has a gap; see the findings of the quote.")
    return sheet, sheet.priced


def _freeze(
    job: Job,
    work_up: WorkUp,
    sheet: QuoteSheet,
    priced: PricedQuote,
    request_key: str,
    by: Person,
    now: datetime,
) -> QuoteRevision:
    quote = Quote.objects.filter(job=job).first() or Quote.objects.create(
        job=job, number=next_quote_number(work_up.today.year), opened_at=now
    )
    number = _supersede(quote, by, now) + 1
    rule = rule_in_force(work_up.today)
    paper = quote_paper(
        work_up,
        QuoteHead(quote.number, str(number), by.full_name),
        paper_photos(job, for_client=True),
        window_terms(rule, work_up.today, work_up.read.book.firm.name),
    )
    pictures = [pictures_for_client(wall, work_up.read.book) for wall in work_up.walls[:1]]
    more = {"offer": write_offer(_offer(sheet)), "cancellation": write_rule(rule), "pictures": pictures}
    snapshot = snapshot_text(work_up, with_mark(paper), **more)
    revision = QuoteRevision.objects.create(
        quote=quote,
        number=number,
        request_key=request_key,
        issued_at=now,
        issued_by=by,
        issued_by_name=by.full_name,
        quoted_on=sheet.quoted_on,
        valid_until=sheet.valid_until,
        currency=work_up.read.book.firm.currency,
        **column_values(priced, QuoteRevision),
        rules_version=RULE_VERSION,
        snapshot=snapshot,
        snapshot_sha256=hash_of(snapshot),
        state_at=now,
        state_by_name=by.full_name,
    )
    QuoteLine.objects.bulk_create(line_rows(revision, priced))
    QuoteInstalment.objects.bulk_create(instalment_rows(revision, priced))
    request_quote_paper(revision, now)
    fact_changed(job.pk)
    return revision


def _offer(sheet: QuoteSheet) -> Offer:
    assert sheet.offer is not None, "a sheet that is priced has its offer"
    return sheet.offer


def next_quote_number(year: int) -> str:
    """Taken inside the transaction that uses it: the row stays locked to its end, so no number is lost."""
    QuoteSequence.objects.get_or_create(year=year)
    QuoteSequence.objects.filter(year=year).update(last=F("last") + 1)
    return f"Q-{year}-{QuoteSequence.objects.get(year=year).last:04d}"


def _supersede(quote: Quote, by: Person, now: datetime) -> int:
    """Make room for the next revision; the number of the last one, 0 when there is none."""
    revisions = list(quote.revisions.defer("snapshot").order_by("number"))
    for revision in revisions:
        if revision.state == RevisionState.ACCEPTED:
            raise Refused(f"{revision} is accepted. Changes now go into a change note.")
        if revision.state == RevisionState.ISSUED:
            reason = f"Revision {revision.number + 1} was issued."
            try:
                move_revision(revision.pk, RevisionState.SUPERSEDED, now=now, by_name=by.full_name, reason=reason)
            except Refused as refusal:
                # The client answered, or somebody withdrew it, since it was read a moment ago.
                raise Refused(
                    f"{refusal} Nothing was issued; look at it, then issue if that is still right."
                ) from refusal
    return revisions[-1].number if revisions else 0


def line_rows(revision: QuoteRevision, priced: PricedQuote) -> Iterable[QuoteLine]:
    for place, line in enumerate(priced.lines):
        yield QuoteLine(revision=revision, order=place, **vars(line))


def instalment_rows(revision: QuoteRevision, priced: PricedQuote) -> Iterable[QuoteInstalment]:
    for place, due in enumerate(priced.instalments):
        count, parts = split_share(due.share)
        yield QuoteInstalment(
            revision=revision,
            order=place,
            event=due.event,
            share_count=count,
            share_parts=parts,
            amount=due.amount,
        )
