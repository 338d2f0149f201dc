"""The bridge of a job as the section that page, phone and paper draw."""

from catalog.drawings.lettering import PHONE_MM
from catalog.drawings.svg import Redrawn
from jobs.drawings.charts.margin_section import WIDE_MM, Fall, Level, margin_section
from quoting.core.money.bridge import Bridge
from quoting.job_money.services.bridge_words import CAUSE_WORDS


def levels_of(bridge: Bridge, *, is_closed: bool) -> tuple[Level, list[Fall], Level]:
    falls = [Fall("Changes", bridge.changes)] if bridge.changes else []
    falls += [Fall(CAUSE_WORDS[step.cause], step.points, f"{step.amount:,}") for step in bridge.steps if step.points]
    return Level(bridge.quoted_margin, "quoted"), falls, Level(bridge.margin, "made" if is_closed else "expected")


def drawn(bridge: Bridge, *, is_closed: bool) -> Redrawn:
    parts = levels_of(bridge, is_closed=is_closed)
    return Redrawn(margin_section(*parts, WIDE_MM), margin_section(*parts, PHONE_MM))
