"""Where a job stands and what is next, as cells of the foot: the same words as on Jobs, Job and Today."""

from typing import Any

from django import template

from quoting.life.pages.links import ShownStep
from quoting.life.services.reading import ReadLife, life_of_job
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people import access

register = template.Library()
# Who may open the page of a step, where not everybody of the firm may.
PAGES = {
    "send": "revision",
    "sign": "revision",
    "price": "quote",
    "again": "quote",
    "measure": "wall_add",
    "follow": "follow_up",
}


@register.inclusion_tag("life/_state.html", takes_context=True)
def job_state(context: dict[str, Any], job: Any, read: ReadLife | None = None) -> dict[str, Any]:
    """read: where the page has it already."""
    if read is None:
        at_desk = access.role_of(context["request"].user) in access.DESK
        read = life_of_job(job, day_at_the_firm(clock.now()), at_desk=at_desk)
    return {"read": read}


@register.simple_tag(takes_context=True)
def may_open_step(context: dict[str, Any], shown: ShownStep) -> bool:
    name = PAGES.get(shown.step.act, "job")
    return access.is_allowed(access.role_of(context["request"].user), name, "GET")
