"""The facts of jobs' lives, gathered from all rooms in a number of queries that does not grow with the jobs."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date

from django.db.models import Count, Max, Min, Q

from jobs.finish.models import FinishItem
from jobs.jobs.models import Job
from jobs.schedule.models import ActualDays, NamedPerson, PlannedActivityDays
from jobs.schedule.services.actual_days import last_planned
from quoting.client.models import ClientQuestion
from quoting.core.life.facts import FinishFacts, JobFacts, QuestionFacts, WorkFacts
from quoting.life.services.order_facts import ordered
from quoting.life.services.quote_facts import quoted
from quoting.platform.firm_day import firm_zone
from quoting.platform.people.models import Role

MAX_SHOWN = 200


@dataclass(frozen=True)
class WorkedFacts:
    """What a work-up of the job found. before_sending: None while no price is entered, or where nobody asked."""

    unmeasured: tuple[str, ...]
    measured: bool
    before_sending: int | None
    asked_for_price: bool


def facts_of(
    before: Mapping[int, JobFacts | None], today: date, worked: Mapping[int, WorkedFacts] | None = None
) -> dict[int, JobFacts]:
    """Of jobs that are there, by id. before: as stored, None where nothing is; what a work-up found is taken from there
    unless it is given, and of a closed job, whose needs and days are dropped, what was ordered and built as well."""
    jobs = Job.objects.filter(pk__in=before).select_related("client", "created_by").annotate(count=Count("walls"))
    rows = {job.pk: job for job in jobs.order_by("pk")}
    zone = firm_zone()
    result = {pk: _head(job, before[pk], job.created_at.astimezone(zone).date()) for pk, job in rows.items()}
    result = {pk: _worked(facts, (worked or {}).get(pk), today) for pk, facts in result.items()}
    result = _asked(_named(quoted(result, zone)))
    opened = {pk: facts for pk, facts in result.items() if facts.closed_on is None or before[pk] is None}
    return {**result, **_on_site(ordered(opened, today), rows)}


def _asked(result: dict[int, JobFacts]) -> dict[int, JobFacts]:
    asked: defaultdict[int, list[QuestionFacts]] = defaultdict(list)
    waiting = ClientQuestion.objects.filter(revision__quote__job__in=result, answered_at=None).order_by("pk")
    for job, text, on in waiting.values_list("revision__quote__job", "text", "asked_on"):
        asked[job].append(QuestionFacts(text[:MAX_SHOWN], on))
    return {job: replace(facts, questions=tuple(asked[job])) for job, facts in result.items()}


def _head(job: Job, before: JobFacts | None, opened_on: date) -> JobFacts:
    creator = job.created_by
    return replace(
        before or JobFacts(opened_on, ""),
        opened_on=opened_on,
        client=job.client.name,
        walls=job.count,  # type: ignore[attr-defined]
        closed_on=job.closed_on,
        estimator=creator.full_name if creator and creator.role != Role.LEAD else "",
        revision=None,
        signed_on=None,
        money=None,
        unsigned=(),
        requests=(),
        to_ask=(),
        outcome=None,
        lead="",
    )


def _worked(facts: JobFacts, worked: WorkedFacts | None, today: date) -> JobFacts:
    """Since the first day it was found so, as long as it is."""
    if worked is None:
        return facts
    measured_on = (facts.measured_on or today) if worked.measured else None
    fact = replace(facts, unmeasured=worked.unmeasured, measured_on=measured_on)
    if not worked.asked_for_price:
        return fact
    priced_on = (facts.priced_on or today) if worked.before_sending == 0 else None
    return replace(fact, before_sending=worked.before_sending, priced_on=priced_on)


def _named(result: dict[int, JobFacts]) -> dict[int, JobFacts]:
    leads: dict[int, str] = {}
    for job, name in NamedPerson.objects.filter(job__in=result, part="lead").order_by("pk").values_list("job", "name"):
        leads.setdefault(job, name)
    return {job: replace(facts, lead=leads.get(job, "")) for job, facts in result.items()}


def _on_site(result: dict[int, JobFacts], jobs: Mapping[int, Job]) -> dict[int, JobFacts]:
    planned: defaultdict[int, list[PlannedActivityDays]] = defaultdict(list)
    for row in PlannedActivityDays.objects.filter(job__in=result).order_by("first_day", "pk"):
        planned[row.job_id].append(row)
    actual: defaultdict[int, dict[str, ActualDays]] = defaultdict(dict)
    for entry in ActualDays.objects.filter(job__in=result):
        actual[entry.job_id][entry.key] = entry
    finish = _finish(result)
    return {
        job: replace(_built(facts, planned[job], actual[job], jobs[job]), finish=finish.get(job))
        for job, facts in result.items()
    }


def _finish(job_ids: Collection[int]) -> dict[int, FinishFacts]:
    is_open = Q(mended_on=None)
    rows = FinishItem.objects.filter(job__in=job_ids).order_by().values_list("job")
    rows = rows.annotate(a=Count("pk", is_open), b=Count("pk", is_open & Q(due=None)))
    rows = rows.annotate(c=Min("due", filter=is_open), d=Max("mended_on"))
    return {job: FinishFacts(*facts) for job, *facts in rows}


def _built(facts: JobFacts, rows: list[PlannedActivityDays], actual: dict[str, ActualDays], job: Job) -> JobFacts:
    last = last_planned(rows)
    ended = actual.get(last.key) if last else None
    return replace(
        facts,
        begun_on=min((day.began_on for day in actual.values()), default=None),
        last_end=ended.ended_on if ended else None,
        work=_work(rows, actual),
        starts_on=rows[0].first_day if rows else job.start_on,
        ends_on=last.last_day if last else None,
    )


def _work(rows: Iterable[PlannedActivityDays], actual: dict[str, ActualDays]) -> WorkFacts | None:
    """What goes on, else what comes next."""
    rows = list(rows)
    going = [row for row in rows if row.key in actual and actual[row.key].ended_on is None]
    if going:
        key = going[0].key
        return WorkFacts(key, going[0].name, True, max(row.last_day for row in rows if row.key == key))
    first = next((row for row in rows if row.key not in actual), None)
    return WorkFacts(first.key, first.name, False, first.first_day) if first else None
