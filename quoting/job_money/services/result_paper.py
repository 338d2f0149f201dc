"""Fills the paper of a job's result."""

import math
from collections.abc import Iterator
from datetime import date
from fractions import Fraction

from catalog.services.book import firm_of
from catalog.services.firm_on_paper import firm_party, sheet_size
from jobs.drawings.charts.margin_section import PAPER_MM, margin_section
from jobs.jobs.models import Job
from quoting.core.money.bridge import Bridge
from quoting.core.money.job_costs import ItemCost, JobCosts
from quoting.job_money.papers.job_result import JobResultPaper, ResultCause, ResultStep
from quoting.job_money.services.bridge_levels import levels_of
from quoting.job_money.services.bridge_words import CAUSE_WORDS, lead, plain, says
from quoting.job_money.services.job_costs import JobMoney
from quoting.platform.formatting import amount_words, day_words
from quoting.platform.papers.drawings import Drawing
from quoting.platform.papers.parts import Measure

MAX_STEPS, MAX_CAUSES, MAX_LEARNT, MAX_MISSING = 10, 8, 3, 4
WORTH_LEARNING = Fraction(1, 20)
"""Steps that took so much more or less than agreed are named."""


def result_paper(job: Job, money: JobMoney, *, by: str, on: date) -> JobResultPaper:
    firm, costs, bridge = firm_of(), money.costs, money.bridge
    steps = [item for item in costs.items if item.category == "labour" and item.item]
    return JobResultPaper(
        job_title=job.title,
        client_name=job.client.name,
        as_of=day_words(on),
        prepared_by=by,
        firm=firm_party(firm),
        currency=money.currency,
        sentence=" ".join(lead(bridge, is_closed=costs.facts.is_closed)).strip() if bridge else "It has no price.",
        causes=tuple(_causes(bridge)) if bridge else (),
        steps=tuple(_step(costs, item) for item in steps[:MAX_STEPS]),
        figures=tuple(_figures(money)),
        learnt=tuple(_learnt(costs, steps))[:MAX_LEARNT],
        missing=tuple(gap.sentence for gap in costs.gaps)[:MAX_MISSING],
        drawing=_drawing(bridge, is_closed=costs.facts.is_closed) if bridge else None,
        sheet_size=sheet_size(firm),
    )


def _drawing(bridge: Bridge, *, is_closed: bool) -> Drawing:
    picture = margin_section(*levels_of(bridge, is_closed=is_closed), PAPER_MM)
    return Drawing(picture.svg, f"Where {abs(bridge.lost)} points {'went' if bridge.lost >= 0 else 'came from'}")


def _causes(bridge: Bridge) -> Iterator[ResultCause]:
    for step in bridge.steps[:MAX_CAUSES]:
        yield ResultCause(CAUSE_WORDS[step.cause], str(step.points), amount_words(step.amount), says(step, day_words))
    if bridge.changes:
        yield ResultCause("Changes", str(bridge.changes), "–", "Change notes, price and cost together")


def _hours(costs: JobCosts, item: ItemCost) -> tuple[Fraction, Fraction, Fraction]:
    """Agreed, worked, in the end; rows apart for their own cause stand with the step."""
    agreed = costs.agreed_by_item.get((item.category, item.item))
    worked = sum((part.quantity for part in item.parts if part.stage == "worked"), Fraction(0))
    whole = sum((part.quantity for part in item.parts), Fraction(0))
    return (agreed.quantity if agreed else Fraction(0)), worked, whole


def _step(costs: JobCosts, item: ItemCost) -> ResultStep:
    agreed, worked, whole = _hours(costs, item)
    over = _percent(whole, agreed) if agreed > 0 else 0
    return ResultStep(item.what, plain(agreed), plain(worked), plain(whole), f"{over:+}" if over else "")


def _percent(whole: Fraction, agreed: Fraction) -> int:
    return math.floor((whole - agreed) * 100 / agreed + Fraction(1, 2))


def _learnt(costs: JobCosts, steps: list[ItemCost]) -> Iterator[str]:
    """The steps that went furthest from what was agreed, by their hours."""
    hours = [(item.what, *_hours(costs, item)) for item in steps]
    apart = [hour for hour in hours if hour[1] > 0 and abs(hour[3] - hour[1]) >= WORTH_LEARNING * hour[1]]
    for what, agreed, _, whole in sorted(apart, key=lambda row: -abs(row[3] - row[1])):
        more = "more" if whole > agreed else "less"
        yield f"{what}: {plain(abs(whole - agreed))} h {more} than the {plain(agreed)} h agreed."


def _figures(money: JobMoney) -> Iterator[Measure]:
    costs, earned = money.costs, money.earned
    yield Measure("Contract", amount_words(costs.contract), "Accepted and signed")
    yield Measure("Cost to date", amount_words(costs.to_date))
    if costs.to_complete:
        yield Measure("Cost to complete", amount_words(costs.to_complete), f"On order {amount_words(costs.committed)}")
    yield Measure("Cost in the end", amount_words(costs.at_completion))
    yield Measure("Left for the firm", amount_words(costs.contract - costs.at_completion))
    yield Measure("Earned", amount_words(earned.amount))
    yield Measure("Billed", amount_words(earned.billed))
    if costs.exposure:
        yield Measure("Not signed", amount_words(costs.exposure))
