"""The job's part of a job file: client, site, start, walls and agreed dates, read and written."""

from __future__ import annotations

from collections import Counter
from functools import partial

from catalog.core.ground.declared import Document, read, write
from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader, read_all
from catalog.core.ground.workdays import Closure
from jobs.core.measure.wall_document import read_override, read_wall, write_override, write_wall
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.schedule.activity_document import read_links, read_own_activities, write_link, write_own_activity
from jobs.core.schedule.item_document import read_items, write_item
from jobs.core.schedule.job_activities import OwnActivityError, check_spread
from jobs.core.schedule.job_spec import FIRST_SEED, MAX_SEED, ActivityChange, Client, ItemDates, JobSpec
from jobs.core.schedule.people_document import read_actual_days, read_people, write_actual_days, write_people
from jobs.core.schedule.plan_document import read_plans, write_plans
from jobs.core.schedule.template_document import MAX_TEMPLATES, read_template, write_template
from jobs.core.takeoff.held_templates import HeldTemplate

MAX_FITS = 10


def read_client(reader: Reader) -> Client:
    """Who the work is for."""
    entries = read_all(
        name=lambda: reader.text("name", longest=200),
        address=lambda: reader.text("address", ""),
        email=lambda: reader.email("email"),
        phone=lambda: reader.text("phone", "", longest=60),
        tax_exempt_certificate=lambda: reader.optional_text("tax_exempt_certificate"),
    )
    client = Client(**entries)
    reader.finish()
    return client


def write_client(client: Client) -> Document:
    return {
        "name": client.name,
        "address": client.address,
        "email": client.email,
        "phone": client.phone,
        "tax_exempt_certificate": client.tax_exempt_certificate,
    }


def _item_dates(reader: Reader) -> ItemDates:
    return ItemDates(
        reader.text("material", longest=60),
        reader.optional_day("need_by"),
        reader.optional_whole("cushion_workdays", 0, 250),
        reader.optional_whole("sign_off_workdays", 0, 250),
        reader.text("supplier", "", longest=60) or None,
    )


def _activity_change(reader: Reader) -> ActivityChange:
    change = ActivityChange(
        reader.text("key", longest=60),
        reader.optional_whole("duration_workdays", 0, 500),
        reader.optional_day("not_before"),
        reader.flag("left_out", False),
        reader.optional_whole("crew", 1, 50),
        reader.optional_whole("shortest_workdays", 0, 500),
        reader.optional_whole("longest_workdays", 0, 500),
    )
    _refuse_spread(reader, change.shortest_workdays, change.longest_workdays)
    return change


def _refuse_spread(reader: Reader, shortest: int | None, longest: int | None) -> None:
    try:
        check_spread(shortest, longest)
    except OwnActivityError as error:
        raise reader.error(error.field, error.reason) from error


def read_job(reader: Reader) -> JobSpec:
    """The job of the document: `client` and `job` objects and the list `walls`.

    reader: the whole document. Returns the job. Raises DocumentError with every complaint found.

    >>> job = read_job(Reader({"client": {"name": "Larkmoor Dental"}, "job": {"key": "J-1", "title": "Screen"}}))
    >>> job.client.name, job.crew
    ('Larkmoor Dental', 2)
    """
    about = reader.object("job")
    entries = read_all(
        key=lambda: _key(about),
        title=lambda: about.text("title", longest=200),
        client=lambda: read_client(reader.object("client")),
        site_address=lambda: about.text("site_address", ""),
        start_on=lambda: about.optional_day("start_on"),
        crew=lambda: about.whole("crew", 1, 50, 2),
        closures=lambda: about.items("closed", partial(read, Closure)),
        walls=lambda: _walls(reader),
        dates=lambda: _dates(about),
        activities=lambda: about.items("activities", _activity_change),
        overrides=lambda: about.items("overrides", read_override),
        templates=lambda: _templates(about),
        plans=lambda: read_plans(about),
        own_activities=lambda: read_own_activities(about),
        links=lambda: read_links(about),
        promised_on=lambda: about.optional_day("promised_on"),
        chance_seed=lambda: about.whole("chance_seed", 1, MAX_SEED, FIRST_SEED),
        items=lambda: read_items(about),
        people=lambda: read_people(about),
        actual_days=lambda: read_actual_days(about),
    )
    about.finish()
    return JobSpec(**entries)


def _key(about: Reader) -> str:
    key = about.text("key", longest=40)
    # It stands in the addresses of pages and calls, where a slash would make it two names.
    if "/" in key or not key.isprintable():
        raise about.error("key", f'{key!r} must hold no "/" and no line end; write it as J-0012')
    return key


def _refuse_many_fits(reader: Reader) -> None:
    """Fitting pieces to offsets is a search that takes a while; a document may ask for a few, not for hundreds."""
    given = [entry for entry in reader.values("walls", 500) if isinstance(entry, dict)]
    unfitted = sum(1 for entry in given if entry.get("offsets") and not entry.get("pieces"))
    if unfitted > MAX_FITS:
        raise reader.error(
            "walls",
            f"{unfitted} walls give offsets without pieces; at most {MAX_FITS} are fitted at a time: give the others' "
            "pieces as well, or bring them in after these",
        )


def _walls(reader: Reader) -> tuple[WallSpec, ...]:
    _refuse_many_fits(reader)
    walls = reader.items("walls", read_wall, most=500)
    _refuse_doubles(reader, "walls", [wall.key for wall in walls])
    _refuse_shared_names(reader, walls)
    return walls


def _refuse_shared_names(reader: Reader, walls: tuple[WallSpec, ...]) -> None:
    """Costs and the client's lines are of a wall by its name."""
    first: dict[str, tuple[int, WallSpec]] = {}
    complaints = []
    for place, wall in enumerate(walls):
        at, other = first.setdefault(wall.name, (place, wall))
        if at != place:
            path = reader.where(f"walls[{place}].name")
            complaints.append(
                DocumentProblem(path, shared_name(wall.name, f'"{other.key}" ({reader.where(f"walls[{at}]")})'))
            )
    if complaints:
        raise DocumentError(complaints)


def shared_name(name: str, other: str) -> str:
    """Why a wall cannot be called so.

    name: what two walls of a job are called. other: the wall that has the name already, in words. Returns the reason.
    Source: own rule; costs and the client's lines are of a wall by its name.

    >>> shared_name("Screen", '"screen-1"')
    '"Screen" is the name of the wall "screen-1" too; name each wall of a job differently'
    """
    return f'"{name}" is the name of the wall {other} too; name each wall of a job differently'


def _dates(about: Reader) -> tuple[ItemDates, ...]:
    dates = about.items("dates", _item_dates)
    _refuse_doubles(about, "dates", [date.material for date in dates])
    return dates


def _templates(about: Reader) -> tuple[HeldTemplate, ...]:
    templates = about.items("templates", read_template, most=MAX_TEMPLATES)
    _refuse_doubles(about, "templates", [template.name.strip().casefold() for template in templates])
    return templates


def _refuse_doubles(reader: Reader, name: str, keys: list[str]) -> None:
    twice = [key for key, count in Counter(keys).items() if count > 1]
    if twice:
        raise DocumentError(DocumentProblem(reader.where(name), f'"{key}" is given twice') for key in twice)


def write_job(job: JobSpec) -> Document:
    """The job as the objects `client`, `job` and `walls`, which `read_job` reads back the same."""
    return {
        "client": write_client(job.client),
        "job": {
            "key": job.key,
            "title": job.title,
            "site_address": job.site_address,
            "start_on": job.start_on.isoformat() if job.start_on else None,
            "crew": job.crew,
            "closed": [write(closure) for closure in job.closures],
            "dates": [
                {
                    "material": date.material,
                    "need_by": date.need_by.isoformat() if date.need_by else None,
                    "cushion_workdays": date.cushion_workdays,
                    "sign_off_workdays": date.sign_off_workdays,
                    **({"supplier": date.supplier} if date.supplier else {}),
                }
                for date in job.dates
            ],
            "activities": [
                {
                    "key": activity.key,
                    "duration_workdays": activity.duration_workdays,
                    "not_before": activity.not_before.isoformat() if activity.not_before else None,
                    "left_out": activity.left_out,
                    "crew": activity.crew,
                    "shortest_workdays": activity.shortest_workdays,
                    "longest_workdays": activity.longest_workdays,
                }
                for activity in job.activities
            ],
            "own_activities": [write_own_activity(activity) for activity in job.own_activities],
            "links": [write_link(link) for link in job.links],
            "promised_on": job.promised_on.isoformat() if job.promised_on else None,
            "chance_seed": job.chance_seed,
            "people": write_people(job.people),
            "actual_days": write_actual_days(job.actual_days),
            "overrides": [write_override(override) for override in job.overrides],
            "templates": [write_template(template) for template in job.templates],
            **write_plans(job.plans),
            **({"items": [write_item(item) for item in job.items]} if job.items else {}),
        },
        "walls": [write_wall(wall) for wall in job.walls],
    }
