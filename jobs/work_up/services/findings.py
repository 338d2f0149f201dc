"""What must be read of a job, by who reads it."""

from jobs.core.measure.findings import Finding
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.takeoff.held_templates import TEMPLATE

NO_START = Finding("job/start_on", "gap", "The first day on site is not agreed: nothing can be dated.")
NO_WALL = "No wall is entered yet."
WAITING = ("gap", "decide")


def facts_findings(done: JobWorkUp, show_money: bool) -> tuple[Finding, ...]:
    """show_money: False for those who see none; they are told of the walls and the activities, not of prices or
    suppliers. What is said of the needs' days and of the price is stored apart."""
    found = [*_before_dates(done, show_money), *(done.idle_dates if show_money else ())]
    return tuple({one.key: one for one in found}.values())


def _before_dates(done: JobWorkUp, show_money: bool) -> list[Finding]:
    found: list[Finding] = []
    if done.read.job.start_on is None:
        found.append(NO_START)
    found += done.takeoff.findings if show_money else [one for wall in done.walls for one in wall.findings]
    found += [hold.finding for wall in done.walls for hold in wall.holds if hold.dimension == TEMPLATE and hold.is_open]
    return found + list(done.plan.findings)


def waiting_sentences(done: JobWorkUp, show_money: bool) -> list[str]:
    """What is missing or to be decided, each once; what is missing of dates stands with the needs themselves."""
    told = [one.sentence for one in _before_dates(done, show_money) if one.weight in WAITING]
    return list(dict.fromkeys([*([] if done.walls else [NO_WALL]), *told]))


def findings_of_the_job(done: JobWorkUp) -> list[dict[str, object]]:
    """The same as rows keep it: each sentence with whether the desk, the site and the list of dates show it, and
    whether it waits for a decision on a wall."""
    desk, site = waiting_sentences(done, True), waiting_sentences(done, False)
    dates = [one.sentence for one in done.plan.findings if one.weight == "gap"]
    decide = {one.sentence for one in done.takeoff.findings if one.weight == "decide"}
    return [
        {
            "sentence": one,
            "desk": one in desk,
            "site": one in site,
            "dates": one in dates,
            "decide": one in decide,
        }
        for one in dict.fromkeys([*desk, *site, *dates])
    ]
