"""What must be read of a job, by who reads it."""

from jobs.core.measure.findings import Finding
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.takeoff.held_templates import TEMPLATE

NO_START = Finding("job/start_on", "gap", "The first day on site is not agreed: nothing can be dated.")
NO_WALL = "No wall is entered yet."
WAITING = ("gap", "decide")


def facts_findings(work_up: JobWorkUp, show_money: bool) -> tuple[Finding, ...]:
    """show_money: False for those who see none; they are told of the walls and the activities, not of prices or
    suppliers. What is said of the needs' days and of the price is stored apart."""
    findings = [*_before_dates(work_up, show_money), *(work_up.idle_dates if show_money else ())]
    return tuple({finding.key: finding for finding in findings}.values())


def _before_dates(work_up: JobWorkUp, show_money: bool) -> list[Finding]:
    findings: list[Finding] = []
    if work_up.read.job.start_on is None:
        findings.append(NO_START)
    findings += (
        work_up.takeoff.findings if show_money else [finding for wall in work_up.walls for finding in wall.findings]
    )
    findings += [
        hold.finding for wall in work_up.walls for hold in wall.holds if hold.dimension == TEMPLATE and hold.is_open
    ]
    return findings + list(work_up.plan.findings)


def waiting_sentences(work_up: JobWorkUp, show_money: bool) -> list[str]:
    """What is missing or to be decided, each once; what is missing of dates stands with the needs themselves."""
    sentences = [finding.sentence for finding in _before_dates(work_up, show_money) if finding.weight in WAITING]
    return list(dict.fromkeys([*([] if work_up.walls else [NO_WALL]), *sentences]))


def findings_of_the_job(work_up: JobWorkUp) -> list[dict[str, object]]:
    """The same as rows keep it: each sentence with whether the desk, the site and the list of dates show it, and
    the wall on which it waits for a decision, empty for none."""
    desk, site = waiting_sentences(work_up, True), waiting_sentences(work_up, False)
    dates = [finding.sentence for finding in work_up.plan.findings if finding.weight == "gap"]
    asked = [finding for finding in work_up.takeoff.findings if finding.weight == "decide"]
    decide = {finding.sentence: finding.key.partition("/")[0] for finding in asked}
    return [
        {
            "sentence": sentence,
            "desk": sentence in desk,
            "site": sentence in site,
            "dates": sentence in dates,
            "decide": decide.get(sentence, ""),
        }
        for sentence in dict.fromkeys([*desk, *site, *dates])
    ]
