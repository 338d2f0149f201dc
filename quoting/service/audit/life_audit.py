"""Invariants of the lives of jobs; loaded with the other audit checks."""

from collections.abc import Iterable
from datetime import datetime

from jobs.jobs.models import Job
from quoting.core.life.facts_document import write_facts
from quoting.life.models import KeptLife
from quoting.life.services.following import JOBS_AT_ONCE
from quoting.life.services.gathering import facts_of
from quoting.platform.firm_day import day_at_the_firm
from quoting.service.audit.services.audit import audit_check


@audit_check("lives of jobs")
def lives_are_as_the_facts_say(now: datetime) -> Iterable[str]:
    today = day_at_the_firm(now)
    for job in Job.objects.filter(life=None, worked__worked_changes__isnull=False):
        yield f"{job} has no row that says where it stands."
    rows = list(KeptLife.objects.select_related("job").order_by("pk"))
    for first in range(0, len(rows), JOBS_AT_ONCE):
        some = rows[first : first + JOBS_AT_ONCE]
        lives = facts_of({row.pk: row.to_core() for row in some}, today)
        for row in some:
            if (fresh := write_facts(lives[row.pk])) != row.facts:
                named = sorted(name for name in {*fresh, *row.facts} if fresh.get(name) != row.facts.get(name))
                yield f"{row.job}: its row says otherwise than its facts of {', '.join(named)}."
