"""The paper of a revision: asked for once, made by errand."""

from datetime import datetime

from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import queue_errand
from quoting.platform.papers.models import Paper
from quoting.platform.papers.papers import RENDER_QUOTE, key_of_revision
from quoting.quotes.models import QuoteRevision


def request_quote_paper(revision: QuoteRevision, now: datetime) -> Errand:
    """Asked for again, it is the same errand; what it renders was frozen with the revision."""
    return queue_errand(RENDER_QUOTE, key_of_revision(revision), {"revision": revision.pk}, now)


def quote_paper_errand(revision: QuoteRevision) -> Errand | None:
    return Errand.objects.filter(kind=RENDER_QUOTE, key=key_of_revision(revision)).first()


def paper_of_revision(revision: QuoteRevision) -> Paper | None:
    return Paper.objects.filter(revision=revision).first()
