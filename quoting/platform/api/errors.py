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
from catalog.core.ground.refusal import EntryError, Refused
from quoting.platform.papers.errors import PaperNotKept

log = logging.getLogger(__name__)


class NoVersionGiven(Refused):
    status = 428
    path = "If-Match"


class StandsInTheWay(Refused):
    pass


class NotAsSeen(Refused):
    status = 412
    path = "If-Match"

    def __init__(self) -> None:
        super().__init__("names what is no longer there so. Nothing was saved: read it again and change it from that")


def explain(error: Exception, context: dict[str, Any]) -> Response | None:
    match error:
        case DocumentError():
            return told(400, error.complaints)
        case EntryError():
            return told(context["view"].status_of_impossible_wall, [Complaint(error.field, error.reason)])
        case ParseError():
            return told(400, [Complaint("", str(error.detail))])
        case Refused():
            return told(error.status, [Complaint(error.path, sentence) for sentence in error.sentences])
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
