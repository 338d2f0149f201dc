"""What a way out of a bend that is too tight costs: the job worked up with that wall so built, less as it stands."""

from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.declared import Amount, As, Rounded, View
from catalog.core.ground.document_reader import DocumentError
from jobs.jobs.models import Job
from jobs.walls.services.ways import built_by
from quoting.core.quotes.comparison import Build
from quoting.job_files.services.job_files import job_file_to_work_up
from quoting.platform.people.signatures import Signature

FIGURES = ("price", "material_cost", "hours")


@dataclass(frozen=True)
class WayPrice(View):
    """What changes, after less before: the price before tax, the cost of materials, the hours of work. Null while a
    figure of either is missing."""

    price: Annotated[Decimal | None, Amount(), As(withheld="margins")]
    material_cost: Annotated[Decimal | None, Amount()]
    hours: Annotated[float | None, Rounded(2)]


def price_of_way(job: Job, wall_key: str, way: str, signature: Signature) -> WayPrice:
    """Raises DocumentError at "way" for one that is none, SurveyError for walls that cannot be worked up."""
    read, work = job_file_to_work_up(job, signature.on)
    before = work(read)
    wall = next((one for one in before.walls if one.spec.key == wall_key), None)
    if wall is None:
        raise DocumentError.at("wall", f'"{wall_key}" is not a wall of this job')
    spec = built_by(wall, read.book, way, signature)
    walls = tuple(spec if one.key == wall_key else one for one in read.job.walls)
    after = work(replace(read, job=replace(read.job, walls=walls)))
    pairs = [(getattr(Build("", None, before), name), getattr(Build("", None, after), name)) for name in FIGURES]
    return WayPrice(*(None if was is None or now is None else now - was for was, now in pairs))
