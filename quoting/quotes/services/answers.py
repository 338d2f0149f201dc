"""What the client answered to a revision, and whether the acceptance was taken back."""

from datetime import date

from jobs.jobs.models import Job
from quoting.quotes.models import ClientAnswer, QuoteRevision, RevisionState, TakeBack
from quoting.quotes.services.signed import accepted_revisions


def answer_of(revision: QuoteRevision) -> ClientAnswer | None:
    return ClientAnswer.objects.select_related("quote", "revision__quote").filter(revision=revision).first()


def taking_back_of(revision: QuoteRevision) -> TakeBack | None:
    return TakeBack.objects.filter(answer__revision=revision).first()


def last_taken_back(job: Job) -> TakeBack | None:
    """The latest taking back of a job of which no quote stands accepted; None of any other."""
    if accepted_revisions().filter(quote__job=job).exists():
        return None
    rows = TakeBack.objects.select_related("answer__revision__quote")
    return rows.filter(answer__quote__job=job).first()


def can_be_taken_back(answer: ClientAnswer | None, state: str, today: date) -> bool:
    """Whether a notice given today is in time. state: of the revision."""
    window = answer.cancel_until if answer is not None and state == RevisionState.ACCEPTED else None
    return window is not None and today <= window
