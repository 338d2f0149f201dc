"""What went wrong, as JSON: {"errors": [{"path", "reason"}]} for what was sent or stands in the way, and
{"detail"} for everything about the request itself."""

import logging
from collections.abc import Iterable
from typing import Any

from django.core.exceptions import ObjectDoesNotExist
from django.db import IntegrityError
from rest_framework.exceptions import ParseError
from rest_framework.response import Response
from rest_framework.views import exception_handler

from catalog.core.ground.document_reader import Complaint, DocumentError
from catalog.services.book import NoFirmYet
from jobs.core.measure.survey import SurveyError
from jobs.core.schedule.completion_risk import ChanceError
from jobs.deliveries.services.order_events import EventRefused
from jobs.jobs.services.versions import ChangedMeanwhile
from jobs.orders.services.refusal import OrderRefused
from quoting.changes.services.change_drafts import ChangeRefused
from quoting.changes.services.contracts import NothingAgreed
from quoting.client.services.acceptance import AnswerRefused
from quoting.client.services.mails import MailRefused
from quoting.platform.papers.errors import PaperNotKept
from quoting.pricing.services.least_margin import ApprovalRefused
from quoting.quotes.services.quotes import ChangedSinceShown, QuoteRefused
from quoting.quotes.services.revisions import StepRefused

log = logging.getLogger(__name__)


class NoVersionGiven(Exception):
    pass


class StandsInTheWay(Exception):
    """What was asked is well formed, and cannot be done as things stand."""


def explain(error: Exception, context: dict[str, Any]) -> Response | None:
    match error:
        case DocumentError():
            return told(400, error.complaints)
        case SurveyError():
            return told(context["view"].status_of_impossible_wall, [Complaint(error.field, error.reason)])
        case ParseError():
            return told(400, [Complaint("", str(error.detail))])
        case NoVersionGiven():
            return told(428, [Complaint("If-Match", str(error))])
        case ChangedMeanwhile() | ChangedSinceShown():
            return told(412, [Complaint("If-Match", str(error))])
        case OrderRefused() | QuoteRefused():
            return told(409, [Complaint("", sentence) for sentence in error.sentences])
        case ChanceError() | NoFirmYet() | StepRefused() | StandsInTheWay() | ApprovalRefused():
            return told(409, [Complaint("", str(error))])
        case AnswerRefused() | ChangeRefused() | EventRefused() | NothingAgreed() | MailRefused():
            return told(409, [Complaint("", str(error))])
        case IntegrityError():
            log.exception("the database refused a change")
            return told(409, [Complaint("", "Someone changed the same at this moment. Nothing was saved; try again.")])
        case ObjectDoesNotExist():
            return Response({"detail": "There is nothing of that name here."}, status=404)
        case PaperNotKept():
            log.error("paper not kept", extra={"fields": {"why": str(error)}})
            return Response({"detail": str(error)}, status=503)
    return exception_handler(error, context)


def told(status: int, complaints: Iterable[Complaint]) -> Response:
    errors = [{"path": one.path, "reason": one.reason} for one in complaints]
    return Response({"errors": errors}, status=status)
