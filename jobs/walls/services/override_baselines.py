"""What a decision about a check is taken for: it holds for those figures and for none that ask more."""

from collections.abc import Iterable

from catalog.services.book import materials_with_parts, standards_of
from jobs.core.measure.findings import Override
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.takeoff.wall_work_up import with_compared


def with_figures_decided(spec: WallSpec, stored: Iterable[Override]) -> WallSpec:
    """The wall with the figures its new decisions are taken for; those stored already keep theirs."""
    stored = tuple(stored)
    if all(override in stored for override in spec.overrides):
        return spec
    materials = {row.code: row.to_core() for row in materials_with_parts()}
    return with_compared(spec, stored, materials, standards_of())
