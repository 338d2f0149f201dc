"""Builds of a stored job side by side, and one of them made the build of its walls."""

from collections.abc import Mapping, Sequence
from datetime import date

from django.db import transaction

from catalog.core.ground.document_reader import DocumentError
from jobs.jobs.models import Job
from jobs.jobs.services.versions import ChangedMeanwhile
from jobs.walls.services.overrides import clear_override
from jobs.walls.services.walls import store_wall
from quoting.core.prices.variants import Variant
from quoting.core.quotes.comparison import Comparison, compare
from quoting.core.quotes.rebuilding import Rebuilt, rebuild
from quoting.job_files.services.job_files import job_file_of, job_file_to_work_up

Versions = Mapping[str, int]


def compare_builds(job: Job, variants: Sequence[Variant], today: date) -> Comparison:
    """Raises DocumentError for a variant that cannot be built, SurveyError for walls that cannot be worked up."""
    read, work = job_file_to_work_up(job, today)
    return compare(read, variants, today, work=work)


def versions_of(job: Job) -> Versions:
    """What stands at which version: every wall by its key, and the job itself under the empty key."""
    return {"": job.version} | dict(job.walls.values_list("key", "version"))


@transaction.atomic
def use_build(job: Job, variant: Variant, *, seen: Versions, today: date) -> Rebuilt:
    """Build the job's walls so from now on: all of them or none.

    seen: the versions that were compared. Refused with ChangedMeanwhile when any wall, or the job, has changed since,
    for then another build would be stored than the one that was shown.
    """
    Job.objects.select_for_update().get(pk=job.pk)
    _refuse_changed(job, seen)
    rebuilt = rebuild(job_file_of(job, today), variant, "variants[0]")
    if not rebuilt.walls:
        raise DocumentError.at("variants[0]", "is the build as it stands; there is nothing to store")
    for key in rebuilt.walls:
        store_wall(job, rebuilt.read.job.wall(key), seen_version=seen[key], path=f"{key}.")
    stored = {override.key for override in rebuilt.read.job.overrides}
    for decision in job.to_core().overrides:
        if decision.key not in stored:
            clear_override(job, None, decision.key)
    job.forget_parts()
    return rebuilt


def _refuse_changed(job: Job, seen: Versions) -> None:
    now = versions_of(Job.objects.get(pk=job.pk))
    if set(now) != set(seen):
        raise ChangedMeanwhile(str(job), seen.get("", 0), now[""])
    for key, version in now.items():
        if seen[key] != version:
            raise ChangedMeanwhile(key or str(job), seen[key], version)
