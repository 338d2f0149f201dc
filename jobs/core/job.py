"""A job as the core sees it: whose it is, where, when it starts, its walls and what is agreed about dates."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from catalog.core.workdays import Closure
from jobs.core.build import WallSpec
from jobs.core.findings import Override
from jobs.core.held_templates import HeldTemplate
from jobs.core.job_plans import NO_PLANS, JobPlans


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

    material: code. need_by: the day it must be on site. cushion_workdays, sign_off_workdays: >= 0.
    """

    material: str
    need_by: date | None = None
    cushion_workdays: int | None = None
    sign_off_workdays: int | None = None


@dataclass(frozen=True)
class ActivityChange:
    """A change to one activity of the default chain: its key, and a duration or a day it cannot start before.

    duration_workdays: 0 to 500. not_before: a day. left_out: the activity does not happen on this job.
    """

    key: str
    duration_workdays: int | None = None
    not_before: date | None = None
    left_out: bool = False


@dataclass(frozen=True)
class JobSpec:
    """One job. key: short and stable ("J-0012"). start_on: first working day on site, None while not agreed.

    closures: days the site is shut to the firm. walls: each with its own key. overrides: of the job's lines.
    templates: traced from its walls, whatever became of them. plans: what boards and sticks are cut by.
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

    def wall(self, key: str) -> WallSpec:
        """The wall of that key. Raises KeyError.

        >>> JobSpec("J", "Job", Client("C")).walls
        ()
        """
        for wall in self.walls:
            if wall.key == key:
                return wall
        raise KeyError(key)
