"""A job as the core sees it: whose it is, where, when it starts, its walls and what is agreed about dates."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from catalog.core.ground.workdays import Closure
from jobs.core.measure.findings import Override
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.schedule.actual_days import ActualDays
from jobs.core.schedule.job_activities import AddedActivity, LinkChange
from jobs.core.schedule.people import NamedPerson
from jobs.core.takeoff.held_templates import HeldTemplate
from jobs.core.takeoff.job_items import JobItem
from jobs.core.takeoff.job_plans import NO_PLANS, JobPlans

FIRST_SEED = 1
MAX_SEED = 2_000_000_000


@dataclass(frozen=True)
class Client:
    """Who the work is for. tax_exempt_certificate: its number, None when not exempt."""

    name: str
    address: str = ""
    email: str = ""
    phone: str = ""
    tax_exempt_certificate: str | None = None


@dataclass(frozen=True)
class ItemDates:
    """Dates agreed for one material of the job, standing before what activities and catalog would give.

    material: code. need_by: the day it must be on site. cushion_workdays, sign_off_workdays: >= 0. supplier: code of
    who it is had from for this job, None for the preferred one.
    """

    material: str
    need_by: date | None = None
    cushion_workdays: int | None = None
    sign_off_workdays: int | None = None
    supplier: str | None = None


@dataclass(frozen=True)
class ActivityChange:
    """A change to one activity of the default chain: its key, and a duration or a day it cannot start before.

    duration_workdays: 0 to 500. not_before: a day. left_out: the activity does not happen on this job. crew: people
    on it, 1 to 50, None for the job's crew. shortest_workdays, longest_workdays: between which it is expected to last,
    0 to 500, None for the firm's shares of its duration.
    """

    key: str
    duration_workdays: int | None = None
    not_before: date | None = None
    left_out: bool = False
    crew: int | None = None
    shortest_workdays: int | None = None
    longest_workdays: int | None = None


@dataclass(frozen=True)
class JobSpec:
    """One job. key: short and stable ("J-0012"). start_on: first working day on site, None while not agreed.

    closures: days the site is shut to the firm. walls: each with its own key. overrides: of the job's lines.
    templates: traced from its walls, whatever became of them. plans: what boards and sticks are cut by.
    own_activities: beside the default chain. links: in place of the chain's, or beside them. promised_on: the day the
    work is promised to be done on site. chance_seed: from which the chance of that is drawn. items: bought beside what
    the walls take. people: named to it. actual_days: of the activities that began, whatever became of the chain.
    """

    key: str
    title: str
    client: Client
    site_address: str = ""
    start_on: date | None = None
    crew: int = 2
    closures: tuple[Closure, ...] = ()
    walls: tuple[WallSpec, ...] = ()
    dates: tuple[ItemDates, ...] = ()
    activities: tuple[ActivityChange, ...] = ()
    overrides: tuple[Override, ...] = ()
    templates: tuple[HeldTemplate, ...] = ()
    plans: JobPlans = NO_PLANS
    own_activities: tuple[AddedActivity, ...] = ()
    links: tuple[LinkChange, ...] = ()
    promised_on: date | None = None
    chance_seed: int = FIRST_SEED
    items: tuple[JobItem, ...] = ()
    people: tuple[NamedPerson, ...] = ()
    actual_days: tuple[ActualDays, ...] = ()

    def wall(self, key: str) -> WallSpec:
        """The wall of that key. Raises KeyError.

        >>> JobSpec("J", "Job", Client("C")).walls
        ()
        """
        for wall in self.walls:
            if wall.key == key:
                return wall
        raise KeyError(key)
