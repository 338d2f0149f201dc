"""What came to a wall with a job file: it stays known as that, until somebody here confirms it."""

from dataclasses import replace
from typing import Any

from django.db import transaction

from jobs.core.measure.wall_spec import WallSpec
from jobs.jobs.services.signatures import with_what_came
from jobs.jobs.services.versions import next_version
from jobs.walls.models import DimensionMark, Override, Wall
from jobs.walls.services.dimension_signatures import marks_in, with_marks_that_came
from quoting.platform.people.signatures import Signature


def open_on(wall: Wall) -> list[DimensionMark | Override]:
    """Its marks and decisions that came with a file and that nobody here has confirmed."""
    wanted: dict[str, Any] = {"brought_on__isnull": False, "confirmed_on": None}
    return [*wall.marks.filter(**wanted), *wall.overrides.filter(**wanted)]


@transaction.atomic
def confirm_brought_in(wall: Wall, *, seen_version: int | None, signature: Signature) -> int:
    """Somebody here stands for all of it from now on; how many there were. Its authors stay. Twice is once."""
    rows = open_on(wall)
    if rows:
        next_version(wall, seen_version)
    for row in rows:
        row.confirmed_by, row.confirmed_on = signature.by, signature.on
        row.save()
    wall.forget_parts()
    wall.job.forget_parts()
    return len(rows)


def still_known(spec: WallSpec, stored: WallSpec | None) -> WallSpec:
    """A wall as typed, with what of its marks and decisions came with a file: documents do not say it."""
    if stored is None:
        return spec
    spec = replace(spec, overrides=with_what_came(spec.overrides, stored.overrides))
    return with_marks_that_came(spec, marks_in(stored))
