"""How far a paper is, as the API tells it."""

from datetime import datetime
from typing import Annotated, NamedTuple

from catalog.core.ground.declared import Choice, Document, Of, View, write
from quoting.platform.errands.models import Errand, ErrandState
from quoting.platform.papers.models import Paper
from quoting.platform.papers.papers import download_name


class PaperMade(View):
    """The paper itself."""

    title: str
    file_name: Annotated[str, Of(download_name)]
    sha256: str
    size_bytes: int
    page_count: int
    made_at: datetime


class PaperProgress(NamedTuple):
    """errand: that makes it, None while nobody asked for it."""

    errand: Errand | None
    paper: Paper | None


class PaperStateShown(View):
    """How far a paper is."""

    document_name = "paper_state"

    state: Annotated[
        str, Choice(("none", *ErrandState.values)), Of(lambda of: of.errand.state if of.errand else "none")
    ]
    progress_text: Annotated[str, Of(lambda of: of.errand.progress_text if of.errand else "")]
    progress_percent: Annotated[int, Of(lambda of: of.errand.progress_percent if of.errand else 0)]
    error: Annotated[str, Of(lambda of: of.errand.error if of.errand else "")]
    paper: PaperMade | None


def paper_progress(errand: Errand | None, paper: Paper | None) -> Document:
    return write(PaperProgress(errand, paper), PaperStateShown)
