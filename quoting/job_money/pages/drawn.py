"""The bridge of a job as a page draws it: wide, and anew for a phone."""

from catalog.drawings.lettering import PHONE_MM
from catalog.drawings.svg import Redrawn
from jobs.drawings.charts.margin_section import WIDE_MM, margin_section
from quoting.core.money.bridge import Bridge
from quoting.job_money.services.bridge_levels import levels_of


def drawn(bridge: Bridge, *, is_closed: bool) -> Redrawn:
    parts = levels_of(bridge, is_closed=is_closed)
    return Redrawn(margin_section(*parts, WIDE_MM), margin_section(*parts, PHONE_MM))
