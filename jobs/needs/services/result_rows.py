"""What a work-up found, written and read as rows of `StoredResult`."""

import json
from dataclasses import replace
from typing import Any, TypeVar

from django.db import transaction

from catalog.core.ground.plain_values import from_plain, to_plain
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.results.job_facts import JobFacts, job_facts
from jobs.needs.models import StoredResult
from jobs.needs.services.small_pictures import pictures_of
from jobs.work_up.services.findings import facts_findings
from quoting.platform.code_mark import code_mark

T = TypeVar("T")
FACTS, TAKEOFF, PLAN = "facts", "takeoff", "plan"
RULES = ("catalog.core", "catalog.drawings", "jobs.core", "jobs.drawings", "jobs.needs.services")


def rules_in_force() -> str:
    """Mark over the code that works a job up: what another version found is worked up anew."""
    return code_mark(*RULES)


def facts_of(work_up: JobWorkUp | None, trouble: str = "", *, pictures: bool = True) -> JobFacts:
    if work_up is None:
        return JobFacts(trouble=trouble)
    drawn = {wall.spec.key: pictures_of(wall, work_up.read.book) for wall in work_up.walls} if pictures else {}
    return job_facts(work_up, drawn, facts_findings(work_up, True), facts_findings(work_up, False))


def without_pictures(facts: JobFacts) -> JobFacts:
    return replace(facts, walls=tuple(replace(wall, pictures={}) for wall in facts.walls))


@transaction.atomic
def store_results(job_id: int, work_up: JobWorkUp | None, trouble: str, *, changes: int, basis: str) -> None:
    """changes, basis: what the work-up rests on, as `WorkedJob` has them."""
    values: dict[str, Any] = {FACTS: facts_of(work_up, trouble)}
    values |= {TAKEOFF: work_up.takeoff, PLAN: work_up.plan} if work_up else {}
    figures = {"changes": changes, "basis": basis, "rules": rules_in_force()}
    StoredResult.objects.filter(job=job_id).exclude(kind__in=values).delete()
    StoredResult.objects.bulk_create(
        [StoredResult(job_id=job_id, kind=kind, document=_text(value), **figures) for kind, value in values.items()],
        update_conflicts=True,
        unique_fields=["job", "kind"],
        update_fields=[*figures, "document"],
    )


def drop_results(job_id: int) -> None:
    StoredResult.objects.filter(job=job_id).delete()


def _text(value: object) -> str:
    return json.dumps(to_plain(value), ensure_ascii=False, separators=(",", ":"))


def read_result(kind: type[T], document: str) -> T:
    return from_plain(kind, json.loads(document))
