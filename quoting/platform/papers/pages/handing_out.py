"""The file of a paper, as it was made."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from quoting.platform.papers.errors import PaperNotKept
from quoting.platform.papers.models import Paper
from quoting.platform.papers.papers import download_name, paper_bytes


def handed_out(request: HttpRequest, row: Paper) -> HttpResponse:
    try:
        data = paper_bytes(row)
    except PaperNotKept as error:
        return render(request, "papers_made/not_kept.html", {"paper": row, "why": str(error)}, status=410)
    response = HttpResponse(data, content_type="application/pdf")
    response["Content-Disposition"] = f'attachment; filename="{download_name(row)}"'
    response["Cache-Control"] = "private, no-store"
    return response
