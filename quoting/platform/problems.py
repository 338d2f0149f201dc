"""What went wrong, as a program reads it: problem details by RFC 9457."""

from collections.abc import Sequence
from http import HTTPStatus

from django.http import JsonResponse

from catalog.core.ground.document_reader import DocumentProblem

PROBLEM = "application/problem+json"
# As RFC 9110 names them; Python's table is older.
TITLES = {413: "Content Too Large", 422: "Unprocessable Content"}


def problem(status: int, detail: str, errors: Sequence[DocumentProblem] = ()) -> JsonResponse:
    """errors: each reason with its place, for what was sent or stands in the way."""
    title = TITLES.get(status, HTTPStatus(status).phrase)
    body = {"type": "about:blank", "title": title, "status": status, "detail": detail}
    if errors:
        body["errors"] = [{"path": error.path, "reason": error.reason} for error in errors]
    return JsonResponse(body, status=status, content_type=PROBLEM)
