"""How far a paper is, as the API tells it."""

from typing import Any

from quoting.platform.errands.models import Errand, ErrandState
from quoting.platform.papers.models import Paper
from quoting.platform.papers.papers import download_name

NOT_ASKED_FOR = {"state": "none", "progress_text": "", "progress_percent": 0, "error": ""}


def paper_progress(errand: Errand | None, paper: Paper | None) -> dict[str, Any]:
    """errand: that makes it, None while nobody asked for it."""
    made = {"paper": paper_written(paper) if paper else None}
    if errand is None:
        return NOT_ASKED_FOR | made
    return {
        "state": ErrandState(errand.state).value,
        "progress_text": errand.progress_text,
        "progress_percent": errand.progress_percent,
        "error": errand.error,
    } | made


def paper_written(paper: Paper) -> dict[str, Any]:
    return {
        "title": paper.title,
        "file_name": download_name(paper),
        "sha256": paper.sha256,
        "size_bytes": paper.size_bytes,
        "page_count": paper.page_count,
        "made_at": paper.made_at.isoformat(),
    }
