"""The places of the masthead and of a phone's foot, by role; the access matrix decides which of them are shown."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django import template
from django.urls import NoReverseMatch, reverse
from django.utils.functional import cached_property

from catalog.services.book import name_of_the_firm
from quoting.platform import clock, screen_days
from quoting.platform.firm_day import day_at_the_firm, moment_at_the_firm
from quoting.platform.people import access
from quoting.platform.people.models import Role
from quoting.service.services.live_facts import live_facts

register = template.Library()

OF_THE_DESK = (("today", "Today"), ("job_list", "Jobs"), ("order_dates", "Buying"), ("catalog", "Catalog"))
PLACES = {
    Role.ESTIMATOR: OF_THE_DESK,
    Role.OFFICE: OF_THE_DESK,
    Role.OWNER: (*OF_THE_DESK[:3], ("month", "Month"), *OF_THE_DESK[3:]),
    Role.LEAD: (("today", "Today"), ("sites", "Sites"), ("receiving", "Receiving"), ("hours", "Hours")),
}
# A phone's foot has room for this many, and for More; a lead has one more, and no wider words.
ON_A_PHONE = {Role.LEAD: 4}
USUALLY = 3
# Of the owner's the month is among them, and buying is not.
NOT_ON_THE_OWNERS_PHONE = "order_dates"
# By what an address begins with: the place it belongs to.
BEGINNINGS: Mapping[str, str] = {
    "today": "today",
    **dict.fromkeys(("jobs", "sites", "crew-clashes", "changes", "site"), "job_list"),
    **dict.fromkeys(("photos", "plans", "payments", "papers"), "job_list"),
    "buying": "order_dates",
    "receiving": "receiving",
    "catalog": "catalog",
    "month": "month",
    "hours": "hours",
}
ALSO_OF_BUYING = "receiving"


@dataclass(frozen=True)
class Place:
    """is_current: the page shown is this place or within it; is_here: it is the very page of the place."""

    label: str
    url: str
    is_current: bool
    is_here: bool = False
    fact: str = ""


class Frame:
    """What the masthead and the foot say, worked out when a template asks for it."""

    def __init__(self, request: Any) -> None:
        self.request = request
        self.role = access.role_of(getattr(request, "user", None))

    @cached_property
    def places(self) -> list[Place]:
        return list(self._places({}))

    @cached_property
    def on_a_phone(self) -> list[Place]:
        names = frozenset(name for name, _ in PLACES.get(self.role, ()))  # type: ignore[call-overload]
        facts = live_facts(names - {"catalog"}, day_at_the_firm(clock.now()))
        return self._with_room(facts)

    @cached_property
    def is_elsewhere(self) -> bool:
        """The page belongs to none of the places a phone has room for."""
        return not any(place.is_current for place in self._with_room({}))

    @cached_property
    def firm_name(self) -> str:
        return name_of_the_firm()

    @cached_property
    def moment(self) -> datetime:
        return moment_at_the_firm(clock.now())

    @cached_property
    def as_of(self) -> str:
        """By the firm's clock, whatever page it is."""
        return f"{screen_days.day_words(self.moment.date())}, {self.moment:%H:%M}"

    def _with_room(self, facts: Mapping[str, str]) -> list[Place]:
        left_out = NOT_ON_THE_OWNERS_PHONE if self.role == Role.OWNER else ""
        return list(self._places(facts, left_out))[: ON_A_PHONE.get(self.role, USUALLY)]  # type: ignore[call-overload]

    def _places(self, facts: Mapping[str, str], left_out: str = "") -> Any:
        for name, label in PLACES.get(self.role, ()):  # type: ignore[call-overload]
            if name != left_out and access.is_allowed(self.role, name, "GET"):
                try:
                    url = reverse(name)
                except NoReverseMatch:
                    continue
                yield Place(label, url, name == self._current, url == self.request.path, facts.get(name, ""))

    @cached_property
    def _current(self) -> str:
        beginning = str(getattr(self.request, "path", "")).strip("/").partition("/")[0]
        if beginning == ALSO_OF_BUYING and self.role in access.DESK:
            return "order_dates"
        result = BEGINNINGS.get(beginning, "")
        if result == "hours" and self.role != Role.LEAD:
            return "job_list"
        return "sites" if result == "job_list" and self.role == Role.LEAD else result


@register.simple_tag(takes_context=True)
def frame(context: dict[str, Any]) -> Frame:
    return Frame(context.get("request"))


@register.simple_tag(takes_context=True)
def may_open(context: dict[str, Any], url_name: str) -> bool:
    """Whether whoever reads may open the page of this name."""
    return access.is_allowed(access.role_of(getattr(context.get("request"), "user", None)), url_name, "GET")
