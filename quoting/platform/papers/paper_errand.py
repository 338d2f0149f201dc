"""What every errand that makes a paper does with it: kept under its hash, told of in a row."""

from dataclasses import dataclass

from quoting.platform import clock
from quoting.platform.errands.services.errand_kinds import Claim
from quoting.platform.papers.errors import PaperRefused, PaperTooLong
from quoting.platform.papers.filing import StoredFile, store_file
from quoting.platform.papers.models import Paper
from quoting.platform.papers.paper_documents import PaperUnreadable
from quoting.platform.papers.papers import page_count, papers_folder

# No second try helps against these; against a full disk or too little memory it may.
HOPELESS = (PaperRefused, PaperTooLong, PaperUnreadable)


@dataclass(frozen=True)
class MadePaper:
    title: str
    file: StoredFile
    page_count: int


def keep(claim: Claim, title: str, pdf: bytes) -> MadePaper:
    claim.say("Keeping the paper", 80)
    return MadePaper(title, store_file(papers_folder(), pdf), page_count(pdf))


def add_paper(claim: Claim, made: MadePaper, **belongs: object) -> None:
    Paper.objects.create(
        key=f"{claim.kind} {claim.key}",
        title=made.title[:500],
        file_name=made.file.name,
        sha256=made.file.sha256,
        size_bytes=made.file.size_bytes,
        page_count=made.page_count,
        made_at=clock.now(),
        **belongs,
    )
