"""Sets a paper's text in type (HTML) and carries it through the sealed renderer."""

from collections.abc import Mapping
from typing import ClassVar, Protocol

from django.template.loader import render_to_string

from quoting.platform.papers.parts import Party
from quoting.platform.papers.sealed import render_pdf


class PrintedPaper(Protocol):
    """A paper as finished text. template: what sets it in type."""

    template: ClassVar[str]

    @property
    def title(self) -> str: ...

    @property
    def firm(self) -> Party: ...

    @property
    def language(self) -> str: ...


def paper_html(paper: PrintedPaper) -> str:
    return render_to_string(paper.template, {"paper": paper})


def paper_pdf(paper: PrintedPaper, images: Mapping[str, bytes] | None = None) -> bytes:
    """images: photos it shows, by file name."""
    about = {"title": paper.title, "author": paper.firm.name, "language": paper.language}
    return render_pdf(paper_html(paper), **about, images=images, fits=getattr(paper, "fits", ()))
