"""What every errand that makes a paper does with it: kept under its hash, told of in a row."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

from quoting.platform import clock
from quoting.platform.errands.services.errand_kinds import Claim, ErrandRefused
from quoting.platform.papers.errors import PaperRefused, PaperTooLong
from quoting.platform.papers.filing import StoredFile, store_file
from quoting.platform.papers.mark import mark_images
from quoting.platform.papers.models import Paper, PaperKind
from quoting.platform.papers.paper_documents import PaperUnreadable, read_paper
from quoting.platform.papers.papers import page_count, papers_folder
from quoting.platform.papers.typeset import paper_pdf

# No second try helps against these; against a full disk or too little memory it may.
HOPELESS = (PaperRefused, PaperTooLong, PaperUnreadable)


@dataclass(frozen=True)
class MadePaper:
    title: str
    file: StoredFile
    page_count: int


class PaperErrand:
    """Sets a paper in type and keeps it. doing: that, in words. of: its class, where it is kept with the errand."""

    time_limit_s: ClassVar[int] = 180
    doing: ClassVar[str]
    of: ClassVar[type]

    def paper(self, claim: Claim) -> Any:
        return read_paper(self.of, claim.payload["paper"])

    def images(self, paper: Any) -> Mapping[str, bytes] | None:
        """Photos it shows, by file name."""
        return None

    def work(self, claim: Claim) -> MadePaper:
        claim.say(self.doing, 10)
        try:
            paper = self.paper(claim)
            pdf = paper_pdf(paper, {**mark_images(paper), **(self.images(paper) or {})})
            claim.say("Keeping the paper", 80)
            return MadePaper(paper.title, store_file(papers_folder(), pdf), page_count(pdf))
        except HOPELESS as error:
            raise ErrandRefused(str(error)) from error

    def store(self, claim: Claim, result: MadePaper) -> None:
        """It belongs to what it was queued of."""
        add_paper(claim, result, **{f"{name}_id": key for name, key in claim.payload.items() if name != "paper"})


def add_paper(claim: Claim, made: MadePaper, **belongs: object) -> None:
    """Kinds of papers are named as the errands that make them are."""
    Paper.objects.create(
        kind=PaperKind(claim.kind.removeprefix("render_")),
        key=f"{claim.kind} {claim.key}",
        title=made.title[:500],
        file_name=made.file.name,
        sha256=made.file.sha256,
        size_bytes=made.file.size_bytes,
        page_count=made.page_count,
        made_at=clock.now(),
        **belongs,
    )
