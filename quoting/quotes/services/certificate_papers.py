"""The certificate of an acceptance: asked for once, made by errand."""

from datetime import datetime

from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import queue_errand
from quoting.platform.papers.papers import RENDER_CERTIFICATE, key_of_revision
from quoting.quotes.models import ClientAnswer


def request_certificate(answer: ClientAnswer, now: datetime) -> Errand:
    """What it says was frozen with the answer."""
    return queue_errand(RENDER_CERTIFICATE, key_of_revision(answer.revision), {"answer": answer.pk}, now)


def certificate_errand(answer: ClientAnswer) -> Errand | None:
    return Errand.objects.filter(kind=RENDER_CERTIFICATE, key=key_of_revision(answer.revision)).first()
