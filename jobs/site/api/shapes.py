"""The site sheet as answers show it."""

from datetime import date
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.declared import Of, View
from jobs.core.framing.setting_out import OrdinateTable
from jobs.core.results.survey_shown import RoomShown
from jobs.site.services.cuts import packs_words
from jobs.site.services.sheet import CAUTIONS
from quoting.platform.api.declared import answer_shapes
from quoting.platform.papers.parts import Measure


class SiteTableShown(View):
    """A table as finished text."""

    heading: str
    notes: tuple[str, ...]
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


class SiteSectionShown(View):
    """A part of the sheet as finished text."""

    document_name = "site_section"

    heading: str
    says: tuple[str, ...]
    tables: tuple[SiteTableShown, ...]


class ArrivalShown(View):
    """What came on a day: count is good, spoilt damaged or wrong; a count under zero went back."""

    on: date
    count: Decimal
    spoilt: Decimal
    unit: str


class SiteMaterialShown(View):
    """What is to be on site, and what has come."""

    material: Annotated[str, Of("purchase.material")]
    name: Annotated[str, Of("purchase.name")]
    for_the_job: Annotated[str, Of(lambda row: packs_words(row.purchase))]
    need_by: Annotated[date | None, Of("need.need_by")]
    on_site: tuple[ArrivalShown, ...]


class SiteWallShown(View):
    """One wall, as it is set out."""

    key: Annotated[str, Of("sheet.key")]
    name: Annotated[str, Of("sheet.name")]
    missing: Annotated[tuple[str, ...], Of("sheet.missing")]
    warnings: Annotated[tuple[str, ...], Of("sheet.warnings")]
    figures: Annotated[tuple[Measure, ...], Of("sheet.figures")]
    ordinates: tuple[OrdinateTable, ...]
    room: RoomShown | None
    sections: Annotated[tuple[SiteSectionShown, ...], Of("sheet.sections")]


class SiteSheetShown(View):
    """What the lead builds from."""

    document_name = "site_sheet"

    job: Annotated[str, Of("work_up.read.job.key")]
    title: Annotated[str, Of("work_up.read.job.title")]
    as_of: Annotated[date, Of("work_up.today")]
    interval_mm: float
    cautions: Annotated[tuple[str, ...], Of(lambda facts: CAUTIONS)]
    materials: tuple[SiteMaterialShown, ...]
    walls: tuple[SiteWallShown, ...]
    cut_lists: SiteSectionShown | None


SHAPES = answer_shapes(SiteSheetShown)
