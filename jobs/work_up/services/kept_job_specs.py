"""A stored job as a core value, made anew only where one of its rows differs from those it was made of before."""

from functools import cache, lru_cache

from django.db.models import Model

from catalog.core.ground.declared import entries_of
from jobs.core.schedule.job_spec import JobSpec
from jobs.held_templates.models import TemplateMove
from jobs.jobs.models import Client, Job
from jobs.jobs.models.jobs import JOB_PARTS, WALL_PARTS
from jobs.walls.models import Wall
from quoting.platform.models.row_graph import RowGraph, Rows, Table, read_rows

COLUMNS = Job._meta.concrete_fields
OWN = ("id", *(entry.field for entry in entries_of(JobSpec) if entry.field in {column.name for column in COLUMNS}))
"""What of the job stands in its own row."""


def kept_spec(job: Job) -> JobSpec:
    """The same as `to_core`, which is asked where the parts of the job are at hand."""
    if getattr(job, "_prefetched_objects_cache", None):
        return job.to_core()
    own = tuple((name, getattr(job, name)) for name in OWN)
    return _spec(read_rows(_tables(), job.pk), own)


@lru_cache(maxsize=32)
def _spec(rows: Rows, own: tuple[tuple[str, object], ...]) -> JobSpec:
    graph = RowGraph(_tables(), rows)
    job = Job(**dict(own), client=graph[Client][0])
    graph[Job] = [job]
    for model, by in (*_parts(Job, JOB_PARTS), *_parts(Wall, WALL_PARTS), (TemplateMove, "template")):
        graph.hang(model, by)
    return job.to_core()


@cache
def _tables() -> tuple[Table, ...]:
    of_job = dict(_parts(Job, JOB_PARTS))
    of_walls = {model: f"{by}__job" for model, by in _parts(Wall, WALL_PARTS)}
    return tuple(({Client: "jobs", TemplateMove: "template__job"} | of_walls | of_job).items())


def _parts(whole: type[Model], names: tuple[str, ...]) -> tuple[tuple[type[Model], str], ...]:
    relations = [whole._meta.get_field(name) for name in names]
    return tuple((relation.related_model, relation.field.name) for relation in relations)
