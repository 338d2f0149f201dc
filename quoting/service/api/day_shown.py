"""What the API shows of the day of whoever asks."""

from datetime import date
from typing import Annotated, NamedTuple

from catalog.core.ground.day_words import with_day_words
from catalog.core.ground.declared import Of, TextOrNull, View
from quoting.core.life.day_list import jobs_words
from quoting.platform.api.declared import answer_shapes
from quoting.service.services.desk_day import DeskDay
from quoting.service.services.own_day import OwnDay


class ActivityOfDay(View):
    """An activity of a job you are on: which of its working days today is, 0 before the first."""

    job: Annotated[str, Of("job.key")]
    place: Annotated[str, Of("job.site_address")]
    activity: Annotated[str, Of("key")]
    name: str
    first_day: date
    day: int
    days: int
    signed: bool
    began_on: Annotated[date | None, Of("actual.began_on")]
    ended_on: Annotated[date | None, Of("actual.ended_on")]


class DeliveryDue(View):
    """Goods expected today or before."""

    order: Annotated[str, Of("line.order.number")]
    job: Annotated[str, Of("line.job.key")]
    what: Annotated[str, Of("line.what")]
    expected_on: date | None


class StepOfDay(View):
    """What you do before items are ordered; the wall and the run it is done at, null where it is of none."""

    kind: Annotated[str, Of(lambda pair: pair[1].kind)]
    job: Annotated[str, Of(lambda pair: pair[0].key)]
    wall: Annotated[str, TextOrNull(), Of(lambda pair: pair[1].wall)]
    run: Annotated[str, TextOrNull(), Of(lambda pair: pair[1].run)]
    sentence: Annotated[str, Of(lambda pair: pair[1].sentence)]
    materials: Annotated[tuple[str, ...], Of(lambda pair: pair[1].materials)]
    by: Annotated[date | None, Of(lambda pair: pair[1].by)]


class TodoOfDay(View):
    """One thing to do, of the jobs named; without a day where nobody knows one."""

    what: Annotated[str, Of("text")]
    why: Annotated[str, Of(lambda todo: with_day_words(todo.why))]
    by: Annotated[date | None, Of("day")]
    days_in_hand: Annotated[int | None, Of("in_hand")]
    jobs: Annotated[str, Of(lambda todo: jobs_words(todo.jobs) if todo.jobs else "")]


class Awaited(View):
    """Whom the firm waits for, and for what."""

    who: str
    for_: Annotated[str, Of(lambda waiting: with_day_words(waiting.says))]
    by: Annotated[date | None, Of("day")]


class DayRead(NamedTuple):
    """desk: None of whoever does not sit at one."""

    today: date
    own: OwnDay
    desk: DeskDay | None


class OwnDayShown(View):
    """Your day on site, and what is next at the desk."""

    document_name = "own_day"

    today: date
    jobs: Annotated[tuple[str, ...], Of(lambda read: [job.key for job in read.own.jobs])]
    activities: Annotated[tuple[ActivityOfDay, ...], Of("own.activities")]
    coming: Annotated[tuple[ActivityOfDay, ...], Of("own.coming")]
    deliveries: Annotated[tuple[DeliveryDue, ...], Of("own.deliveries")]
    steps: Annotated[tuple[StepOfDay, ...], Of("own.steps")]
    next: Annotated[
        tuple[TodoOfDay, ...], Of(lambda read: (*read.desk.next.near, *read.desk.next.soon) if read.desk else ())
    ]
    more: Annotated[int, Of(lambda read: read.desk.next.more if read.desk else 0)]
    waiting_for: Annotated[tuple[Awaited, ...], Of(lambda read: read.desk.waiting if read.desk else ())]


SHAPES = answer_shapes(OwnDayShown)
