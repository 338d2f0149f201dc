"""A job as the core sees it: whose it is, where, when it starts, its walls and what is agreed about dates."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Annotated

from catalog.core.ground.declared import (
    As,
    Declared,
    Document,
    Email,
    Items,
    Refs,
    Schema,
    Schemas,
    Text,
    Whole,
    read,
    read_fields,
    write,
    write_fields,
)
from catalog.core.ground.document_reader import Reader, read_all
from catalog.core.ground.workdays import Closure
from jobs.core.measure.findings import Override
from jobs.core.measure.wall_document import write_wall
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.schedule.actual_days import ActualDays
from jobs.core.schedule.job_activities import (
    LONGEST,
    MAX_PEOPLE,
    MAX_WORKDAYS,
    SHORTEST,
    AddedActivity,
    LinkChange,
    check_spread,
)
from jobs.core.schedule.job_walls import read_walls
from jobs.core.schedule.people import NamedPerson
from jobs.core.takeoff.held_templates import HeldTemplate
from jobs.core.takeoff.job_items import JobItem
from jobs.core.takeoff.job_plans import NO_PLANS, JobPlans

FIRST_SEED = 1
MAX_SEED = 2_000_000_000
MAX_CUSHION = 250
MAX_OWN_ACTIVITIES = 40
MAX_LINKS = 200
MAX_NAMED = 100
MAX_ACTUAL_DAYS = 200
MAX_JOB_ITEMS = 200
MAX_TEMPLATES = 500


@dataclass(frozen=True)
class Client:
    """Who the work is for."""

    name: Annotated[str, Text(200), "Name."]
    address: Annotated[str, "Address."] = ""
    email: Annotated[str, Email(), "Where the quotation goes."] = ""
    phone: Annotated[str, Text(60), "Telephone."] = ""
    tax_exempt_certificate: Annotated[str | None, "Number of the exemption certificate; null when tax is charged."] = (
        None
    )


@dataclass(frozen=True)
class ItemDates:
    """Dates agreed for one material, standing before what activities and catalog would give."""

    material: Annotated[str, Text(60), "Its code, once in the list."]
    need_by: Annotated[date | None, "The day it must be on site."] = None
    cushion_workdays: Annotated[
        int | None, Whole(0, MAX_CUSHION), "Working days between dock and need-by, 0 to 250."
    ] = None
    sign_off_workdays: Annotated[int | None, Whole(0, MAX_CUSHION), "Working days the decision takes, 0 to 250."] = None
    supplier: Annotated[
        str | None,
        Text(60, empty_is_none=True),
        "Code of its supplier for this job; null for the preferred.",
        As(left_out=True),
    ] = None


@dataclass(frozen=True)
class ActivityChange:
    """A change to one activity of the default chain.

    Raises:
        OwnActivityError: working days between which it is expected to last that are out of range or order.
    """

    key: Annotated[str, Text(60), "Key of the activity."]
    duration_workdays: Annotated[int | None, Whole(0, MAX_WORKDAYS), "Whole working days, 0 to 500."] = None
    not_before: Annotated[date | None, "It cannot start before this day."] = None
    left_out: Annotated[bool, "It does not happen on this job."] = False
    crew: Annotated[int | None, Whole(1, MAX_PEOPLE), "People on it, 1 to 50; null for the job's crew."] = None
    shortest_workdays: Annotated[int | None, Whole(0, MAX_WORKDAYS), SHORTEST] = None
    longest_workdays: Annotated[int | None, Whole(0, MAX_WORKDAYS), LONGEST] = None

    def __post_init__(self) -> None:
        check_spread(self.shortest_workdays, self.longest_workdays)


@dataclass(frozen=True)
class JobKey(Text):
    """It stands in the addresses of pages and calls, where a slash would make it two names."""

    def read(self, reader: Reader, name: str) -> str:
        key = super().read(reader, name)
        if "/" in key or not key.isprintable():
            raise reader.error(name, f'{key!r} must hold no "/" and no line end; write it as J-0012')
        return key


@dataclass(frozen=True)
class JobSpec:
    """One job."""

    document_name = "job"
    document_description = "The job itself."

    key: Annotated[
        str, JobKey(40, r"^(?=.*\S)[^/\r\n]+$"), "Short and stable, such as J-0012; no slash and no line end."
    ]
    title: Annotated[
        str, Text(200), "What the papers call it.", As(hint="What the job is called, such as Reception screen.")
    ]
    client: Annotated[Client, As(aside=True)]
    site_address: Annotated[str, "Where the work is.", As(rows=3)] = ""
    purchase_order: Annotated[
        str, Text(60), "The client's purchase-order number.", As(left_out=True, label="Client's purchase order")
    ] = field(default="", kw_only=True)
    start_on: Annotated[
        date | None,
        "First working day on site; null while not agreed.",
        As(label="First working day on site", hint="May be left empty; then nothing can be dated."),
    ] = None
    crew: Annotated[
        int, Whole(1, MAX_PEOPLE), "People on site, 1 to 50; 2 when not said.", As(label="People in the crew")
    ] = 2
    closures: Annotated[tuple[Closure, ...], "Days the site is shut.", As(name="closed")] = ()
    walls: Annotated[tuple[WallSpec, ...], As(aside=True)] = ()
    dates: Annotated[
        tuple[ItemDates, ...],
        Items(Declared(ItemDates), once=lambda dates: dates.material),
        "Dates agreed for materials.",
    ] = ()
    activities: Annotated[tuple[ActivityChange, ...], "Changes to the chain of activities."] = ()
    own_activities: Annotated[
        tuple[AddedActivity, ...],
        Items(Declared(AddedActivity), MAX_OWN_ACTIVITIES, once=lambda activity: activity.key),
        "Activities of the job's own, beside the chain.",
    ] = ()
    links: Annotated[
        tuple[LinkChange, ...],
        Items(Declared(LinkChange), MAX_LINKS, once=lambda link: f"{link.before} to {link.after} {link.kind}"),
        "Links between activities, in place of those of the chain or beside them.",
    ] = ()
    promised_on: Annotated[date | None, "The day the work is promised to be done on site; null while none is."] = None
    chance_seed: Annotated[
        int,
        Whole(1, MAX_SEED),
        "From which the chance of finishing by that day is drawn, 1 to 2000000000; 1 when not said.",
    ] = FIRST_SEED
    people: Annotated[
        tuple[NamedPerson, ...],
        Items(Declared(NamedPerson), MAX_NAMED),
        "Who leads the job and who is on its crew, and on which days.",
    ] = ()
    actual_days: Annotated[
        tuple[ActualDays, ...],
        Items(Declared(ActualDays), MAX_ACTUAL_DAYS, once=lambda days: days.key),
        "When its activities really began and ended.",
    ] = ()
    overrides: Annotated[tuple[Override, ...], "Decisions about the job's lines."] = ()
    templates: Annotated[
        tuple[HeldTemplate, ...],
        Items(Declared(HeldTemplate), MAX_TEMPLATES, once=lambda template: template.name.strip().casefold()),
        "Templates traced from its walls, whatever became of them.",
    ] = ()
    plans: Annotated[JobPlans, As(aside=True)] = NO_PLANS
    items: Annotated[
        tuple[JobItem, ...],
        Items(
            Declared(JobItem),
            MAX_JOB_ITEMS,
            once=lambda item: item.key,
            twice='is given twice; give each a "key" of its own',
        ),
        "What is bought beside what the walls take.",
        As(left_out=True),
    ] = ()

    @classmethod
    def from_document(cls, reader: Reader) -> JobSpec:
        """Of the objects `client` and `job` of a document and its list `walls`; nothing else in it is read.

        >>> job = read(JobSpec, Reader({"client": {"name": "Larkmoor"}, "job": {"key": "J-1", "title": "Screen"}}))
        >>> job.client.name, job.crew
        ('Larkmoor', 2)
        """
        about = reader.object("job")
        values = read_all(
            plans=lambda: read(JobPlans, about),
            job=lambda: read_fields(cls, about),
            client=lambda: read(Client, reader.object("client")),
            walls=lambda: read_walls(reader),
        )
        return cls(**values.pop("job"), **values)

    def to_document(self) -> Document:
        about = write_fields(self)
        items = {"items": about.pop("items")} if self.items else {}
        return {
            "client": write(self.client),
            "job": about | write(self.plans) | items,
            "walls": [write_wall(wall) for wall in self.walls],
        }

    @classmethod
    def document_schema(cls, schema: Schema, refs: Refs) -> Schema:
        assert isinstance(refs, Schemas)
        refs.declared(Client)
        schema["properties"] |= JobPlans.properties(refs)
        return schema

    def wall(self, key: str) -> WallSpec:
        """The wall of that key. Raises KeyError.

        >>> JobSpec("J", "Job", Client("C")).walls
        ()
        """
        for wall in self.walls:
            if wall.key == key:
                return wall
        raise KeyError(key)
