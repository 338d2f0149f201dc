"""Papers by errand: asked for once, made in the background, kept under their hash, never changed."""

import hashlib
import json
from datetime import datetime
from io import BytesIO
from pathlib import Path
from typing import Any

from django.conf import settings

from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import queue_errand
from quoting.platform.papers.filing import StoredFile, read_file
from quoting.platform.papers.mark import with_mark
from quoting.platform.papers.models import Paper, PaperKind
from quoting.platform.papers.paper_documents import write_paper

RENDER_QUOTE = "render_quote"
RENDER_ORDER_DATES = "render_order_dates"
RENDER_SITE_SHEET = "render_site_sheet"
RENDER_FULL_SIZE = "render_full_size"
RENDER_CERTIFICATE = "render_certificate"
RENDER_CHANGE_NOTE = "render_change_note"
RENDER_ORDER_SHEET = "render_order_sheet"
RENDER_CLAIM_LETTER = "render_claim_letter"
RENDER_REQUEST = "render_request"
RENDER_STATEMENT = "render_statement"
RENDER_MONTH = "render_month"
RENDER_JOB_RESULT = "render_job_result"
DESK_PAPERS = (
    RENDER_QUOTE,
    RENDER_ORDER_DATES,
    RENDER_CERTIFICATE,
    RENDER_CHANGE_NOTE,
    RENDER_ORDER_SHEET,
    RENDER_CLAIM_LETTER,
)
# What the client is asked to pay: the office's and the owner's.
MONEY_PAPERS = (RENDER_REQUEST, RENDER_STATEMENT)
OWNER_PAPERS = (RENDER_MONTH,)
# What a job made: of those who price.
RESULT_PAPERS = (RENDER_JOB_RESULT,)
SITE_PAPERS = (RENDER_SITE_SHEET, RENDER_FULL_SIZE)
ABOUT = {
    PaperKind.SITE_SHEET: "site sheet",
    PaperKind.FULL_SIZE: "full-size template",
    PaperKind.JOB_RESULT: "job result",
}


def papers_folder() -> Path:
    return Path(settings.MEDIA_ROOT) / "papers"


def key_of_revision(revision: Any) -> str:
    return f"{revision.quote.number} revision {revision.number}"


def queue_paper(kind: str, name: str, paper: Any, now: datetime, **of: Any) -> Errand:
    """The same paper asked for twice is one. name: what it is of, in the key of its errand. of: the same, by ids."""
    document = write_paper(with_mark(paper))
    digest = hashlib.sha256(json.dumps(document, sort_keys=True).encode()).hexdigest()
    return queue_errand(kind, f"{name} {digest}", {**of, "paper": document}, now)


def queue_filled(kind: str, job: Any, paper: Any, now: datetime) -> Errand:
    return queue_paper(kind, job.key, paper, now, job=job.pk)


def last_errand(kind: str, job: Any, **about: str) -> Errand | None:
    """about: what the paper asked for says of itself, such as the name of its wall."""
    return last_asked(kind, job=job.pk, **{f"paper__{name}": value for name, value in about.items()})


def last_asked(kind: str, **of: Any) -> Errand | None:
    """The errand asked for last, of what it was queued for."""
    errands = Errand.objects.filter(kind=kind, **{f"payload__{name}": value for name, value in of.items()})
    return errands.defer("payload").order_by("-pk").first()


def paper_key(errand: Errand) -> str:
    return f"{errand.kind} {errand.key}"


def paper_of(errand: Errand) -> Paper | None:
    """The errand's paper; None while it is not made, and the errand says how far it is or why not."""
    return Paper.objects.filter(key=paper_key(errand)).first()


def list_papers(job: Any, kind: PaperKind | None = None) -> list[Paper]:
    rows = Paper.objects.filter(job=job).select_related("revision__quote").defer("revision__snapshot")
    return list(rows.filter(kind=kind) if kind else rows)


def stored_file_of(paper: Paper) -> StoredFile:
    return StoredFile(paper.file_name, paper.sha256, paper.size_bytes)


def path_of(paper: Paper) -> Path:
    return papers_folder() / paper.file_name


def paper_bytes(paper: Paper) -> bytes:
    """The file as it was made; PaperNotKept when it is gone or its content has changed."""
    return read_file(papers_folder(), stored_file_of(paper))


def download_name(paper: Paper) -> str:
    """What the file is called where it is saved: plain letters only, whatever the job is called."""
    if paper.kind == PaperKind.MONTH:
        about = paper.title
    elif paper.client:
        about = f"statement {paper.made_at.date()}"
    elif paper.order:
        about = f"order {paper.order.number}"
    elif paper.receipt:
        about = f"claim {paper.receipt.delivery.order.number} line {paper.receipt.line.place}"
    else:
        about = f"{paper.job.key} {ABOUT.get(PaperKind(paper.kind), 'order dates')}"
    if paper.revision:
        about = key_of_revision(paper.revision)
    elif paper.answer:
        about = f"{key_of_revision(paper.answer.revision)} acceptance"
    elif paper.payment_request:
        about = f"{paper.job.key} request {paper.payment_request.number}"
    elif paper.change_note:
        about = f"{paper.job.key} change note {paper.change_note.number}"
    return "".join(sign if sign.isascii() and sign.isalnum() else "-" for sign in about).strip("-") + ".pdf"


def page_count(pdf: bytes) -> int:
    # Here, since every process starts sooner without it.
    from pypdf import PdfReader

    return PdfReader(BytesIO(pdf)).get_num_pages()
