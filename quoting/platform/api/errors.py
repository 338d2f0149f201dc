"""What a call raises, as the problem it is answered with."""

import logging
from collections.abc import Sequence
from typing import Any

from django.core.exceptions import ObjectDoesNotExist
from django.db import IntegrityError
from django.http import Http404, HttpResponse
from rest_framework.exceptions import APIException, ParseError
from rest_framework.views import exception_handler

from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.core.ground.refusal import EntryError, Refused
from quoting.platform.papers.errors import PaperNotKept
from quoting.platform.problems import problem

log = logging.getLogger(__name__)
SENTENCES = {
    406: "Answers are JSON: let Accept hold application/json.",
    415: "The body must be JSON, with Content-Type: application/json.",
    429: "Too many calls; Retry-After says in how many seconds to call again.",
}


class NoVersionGiven(Refused):
    status = 428
    path = "If-Match"


class NotAsSeen(Refused):
    status = 412
    path = "If-Match"

    def __init__(self) -> None:
        super().__init__("names what is no longer there. Nothing was saved: read it again and change it from that")


def explain(error: Exception, context: dict[str, Any]) -> HttpResponse | None:
    match error:
        case DocumentError():
            return refuse(error.status, error.complaints)
        case EntryError():
            return refuse(context["view"].status_of_impossible_wall, [DocumentProblem(error.field, error.reason)])
        case ParseError():
            return refuse(400, [DocumentProblem("", str(error.detail))])
        case Refused():
            return refuse(error.status, [DocumentProblem(error.path, sentence) for sentence in error.sentences])
        case IntegrityError():
            log.exception("the database refused a change")
            sentence = "Someone changed the same at this moment. Nothing was saved; try again."
            return refuse(409, [DocumentProblem("", sentence)])
        case ObjectDoesNotExist() | Http404():
            return problem(404, "There is nothing of that name here.")
        case PaperNotKept():
            log.error("paper not kept", extra={"fields": {"why": str(error)}})
            return problem(503, str(error))
        case APIException():
            return _by_framework(error, context)
    return exception_handler(error, context)


def refuse(status: int, complaints: Sequence[DocumentProblem]) -> HttpResponse:
    first, *others = complaints
    return problem(status, f"{first} (and {len(others)} more)" if others else str(first), complaints)


def _by_framework(error: APIException, context: dict[str, Any]) -> HttpResponse | None:
    answer = exception_handler(error, context)
    if answer is None:
        return None
    response = problem(answer.status_code, SENTENCES.get(answer.status_code, str(error.detail)))
    for name in ("Retry-After", "WWW-Authenticate"):
        if name in answer:
            response[name] = answer[name]
    return response
