"""What the lead builds from, as finished text: no money and no supplier has a place in it."""

from dataclasses import dataclass
from typing import ClassVar

from jobs.site.papers.site_parts import SiteSection, SiteWall
from quoting.platform.papers.parts import FinishedText, Party, SheetError, SheetSize, Terms, TitleField


@dataclass(frozen=True)
class SitePaper(FinishedText):
    template: ClassVar[str] = "papers/site.html"
    fits: ClassVar[tuple[str, ...]] = tuple(
        f"main .site-table tbody td {{ padding-top: {row}mm; padding-bottom: {row}mm; }} "
        f"main .site-table table {{ font-size: {size}pt; }} main .site-table {{ margin-bottom: {gap}mm; }}"
        for row, size, gap in ((0.28, 8.1, 2.0), (0.16, 7.8, 1.0), (0.08, 7.5, 0.4))
    )

    job_key: str
    job_title: str
    as_of: str
    prepared_by: str
    firm: Party
    walls: tuple[SiteWall, ...]
    cautions: tuple[str, ...]
    site_lines: tuple[str, ...] = ()
    materials: SiteSection | None = None
    cut_lists: SiteSection | None = None
    sheet_size: SheetSize = "letter"
    language: str = "en"

    def __post_init__(self) -> None:
        super().__post_init__()
        for name in ("walls", "cautions"):
            if not getattr(self, name):
                raise SheetError(f"{name} is empty; a site sheet has at least one entry there.")

    @property
    def title(self) -> str:
        return f"Site sheet: {self.job_title}, as of {self.as_of}"

    @property
    def terms(self) -> Terms:
        return Terms("Cautions", self.cautions, is_caution=True)

    @property
    def title_block(self) -> tuple[TitleField, ...]:
        return (
            TitleField("Job", f"{self.job_key} {self.job_title}"),
            TitleField("Paper", "Site sheet"),
            TitleField("As of", self.as_of),
            TitleField("Prepared by", self.prepared_by),
        )
