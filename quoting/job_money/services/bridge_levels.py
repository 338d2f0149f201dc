"""The bridge of a job as the levels of the section that page, phone and paper draw."""

from jobs.drawings.charts.margin_section import Fall, Level
from quoting.core.money.bridge import Bridge
from quoting.job_money.services.bridge_words import CAUSE_WORDS


def levels_of(bridge: Bridge, *, is_closed: bool) -> tuple[Level, list[Fall], Level]:
    falls = [Fall("Changes", bridge.changes)] if bridge.changes else []
    falls += [Fall(CAUSE_WORDS[step.cause], step.points, f"{step.amount:,}") for step in bridge.steps if step.points]
    return Level(bridge.quoted_margin, "quoted"), falls, Level(bridge.margin, "made" if is_closed else "expected")
