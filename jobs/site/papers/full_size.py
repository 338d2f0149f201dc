"""A template at full size over many sheets, each a whole page of drawing."""

from dataclasses import dataclass
from typing import ClassVar

from django.utils.safestring import SafeString

from quoting.platform.papers.drawings import Drawing, DrawingError, checked, size_of, styled
from quoting.platform.papers.parts import FinishedText, Party, SheetError, SheetSize, TitleField

# What a page holds inside margins of 10 mm, which every office printer reaches.
PAGE_MM: dict[SheetSize, tuple[float, float]] = {"a4": (190.0, 277.0), "letter": (195.9, 259.4)}


@dataclass(frozen=True)
class FullSizePage(FinishedText):
    name: str
    svg: str

    def __post_init__(self) -> None:
        super().__post_init__()
        checked(self.svg)

    @property
    def for_paper(self) -> SafeString:
        return styled(self.svg)


@dataclass(frozen=True)
class FullSizePaper(FinishedText):
    template: ClassVar[str] = "papers/full_size.html"

    job_title: str
    wall: str
    what: str
    as_of: str
    prepared_by: str
    firm: Party
    overview: Drawing
    pages: tuple[FullSizePage, ...]
    says: tuple[str, ...] = ()
    sheet_size: SheetSize = "letter"
    language: str = "en"

    def __post_init__(self) -> None:
        super().__post_init__()
        if not self.pages:
            raise SheetError("pages is empty; a template has at least one page.")
        for page in self.pages:
            if size_of(checked(page.svg)) != PAGE_MM[self.sheet_size]:
                width, height = PAGE_MM[self.sheet_size]
                raise DrawingError(f"Sheet {page.name} must be {width:g} by {height:g} mm at full size.")

    @property
    def title(self) -> str:
        return f"Full-size template: {self.job_title}, {self.wall}, {self.what}"

    @property
    def title_block(self) -> tuple[TitleField, ...]:
        return (
            TitleField("Job", self.job_title),
            TitleField("Wall", self.wall),
            TitleField("Paper", "Full-size template"),
            TitleField("As of", self.as_of),
        )
