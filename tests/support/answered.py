"""Revisions on their way to a client: with a paper nobody has to render, a link, an answer."""

from datetime import date, datetime
from typing import Any

from quoting.changes.models import ChangeNote
from quoting.client.services.client_links import make_link
from quoting.platform.papers.filing import store_file
from quoting.platform.papers.models import Paper, PaperKind
from quoting.platform.papers.papers import papers_folder
from quoting.quotes.models import AnswerKind, ClientAnswer, QuoteRevision
from quoting.quotes.services.acceptance import answer_revision
from quoting.quotes.services.given_answers import Given
from tests.support.worked import NOW, TODAY

PDF = b"%PDF-1.7 stands for the quotation"


def with_paper(revision: QuoteRevision) -> QuoteRevision:
    stored = store_file(papers_folder(), PDF)
    Paper.objects.create(
        kind=PaperKind.QUOTE, job=revision.quote.job, revision=revision, key=f"render_quote {revision}",
        title="Quotation", file_name=stored.name, sha256=stored.sha256, size_bytes=stored.size_bytes, page_count=1,
        made_at=NOW,
    )  # fmt: skip
    return revision


def with_note_paper(note: ChangeNote) -> ChangeNote:
    stored = store_file(papers_folder(), PDF)
    Paper.objects.create(
        kind=PaperKind.CHANGE_NOTE, job=note.job, change_note=note, key=f"render_change_note {note}",
        title="Change note", file_name=stored.name, sha256=stored.sha256, size_bytes=stored.size_bytes, page_count=1,
        made_at=NOW,
    )  # fmt: skip
    return note


def secret_to(revision: QuoteRevision, now: datetime = NOW, today: date = TODAY, *, by_hand: bool = False) -> str:
    return make_link(revision.pk, now=now, today=today, by_name="R. Sallow", by_hand=by_hand)[1]


def accept(revision: QuoteRevision, name: str = "Ada Client", today: date = TODAY, **more: Any) -> ClientAnswer:
    return answer_revision(revision, Given(AnswerKind.ACCEPTED, name, **more), now=NOW, today=today)


def decline(revision: QuoteRevision, name: str = "Ada Client", **more: Any) -> ClientAnswer:
    return answer_revision(revision, Given(AnswerKind.DECLINED, name, **more), now=NOW, today=TODAY)
