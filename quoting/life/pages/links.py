"""Where each next step is taken: the address of its page and the words of its button."""

from collections.abc import Iterable
from dataclasses import dataclass
from urllib.parse import urlencode

from django.urls import reverse

from jobs.core.ordering.order_by import is_late
from jobs.jobs.models import Job
from jobs.orders.models import Order
from quoting.core.life.steps import Step
from quoting.life.services.reading import ReadLife, who_words

BUTTONS = {
    "measure": "Measure",
    "price": "Open the price",
    "send": "Send",
    "sign": "Send a reminder",
    "collect": "Enter a payment",
    "ask": "Ask for it",
    "confirm": "Check on site",
    "wait": "Open",
    "order": "Order",
    "undated": "Assign",
    "settle": "Open the order",
    "receive": "Open the order",
    "note": "Open the note",
    "begin": "Begin",
    "end": "End",
    "bill": "Ask for the rest",
    "close": "Close the job",
    "again": "Open the price",
    "follow": "Follow up",
    "answer": "Open the question",
    "mend": "Finish list",
}


OF_BUYERS = ("collect", "ask", "bill")


@dataclass(frozen=True)
class ShownStep:
    """A step as a row shows it. days: working days in hand, None where no day is known; late when they are passed."""

    step: Step
    url: str
    button: str
    who: str
    days: int | None

    @property
    def is_late(self) -> bool:
        return is_late(self.days)

    @property
    def days_late(self) -> int:
        return -(self.days or 0)


def shown_steps(
    reads: Iterable[ReadLife], most: int | None = None, *, at_desk: bool = True, buys: bool = True
) -> dict[int, list[ShownStep]]:
    """By id of the job, the first of each; in one query however many there are. at_desk: else links lead to what the
    site may open. buys: else what is asked for and paid leads to the contract."""
    reads = list(reads)
    steps = {read.job.pk: read.life.steps[:most] for read in reads}
    numbers = {step.about for some in steps.values() for step in some if step.act in ("settle", "receive")}
    orders = dict(Order.objects.filter(number__in=numbers).values_list("number", "pk")) if numbers else {}
    return {
        read.job.pk: [
            ShownStep(
                step,
                _url(read, step, orders, buys) if at_desk else site_url(read, step),
                BUTTONS[step.act] if buys or step.act not in OF_BUYERS else "Open the contract",
                who_words(step),
                read.in_hand(step),
            )
            for step in steps[read.job.pk]
        ]
        for read in reads
    }


def _url(read: ReadLife, step: Step, orders: dict[str, int], buys: bool) -> str:
    if step.act in OF_BUYERS and not buys:
        return reverse("change_list", args=[read.job.pk])
    return step_url(read, step, orders)


def site_url(read: ReadLife, step: Step) -> str:
    """For those on site: walls, activities, what they confirm; all else is read among the days of the job."""
    if step.act in ("begin", "end", "mend") or (step.act in ("confirm", "wait") and step.who == "lead"):
        return step_url(read, step, {})
    return reverse("job_walls" if step.act == "measure" else "job_order_dates", args=[read.job.pk])


def step_url(read: ReadLife, step: Step, orders: dict[str, int]) -> str:
    """orders: ids by number."""
    job = read.job
    match step.act:
        case "measure":
            return reverse("job_walls" if read.facts.walls else "wall_add", args=[job.pk])
        case "price" | "again":
            return reverse("quote", args=[job.pk])
        case "send":
            revision = read.facts.revision
            return reverse("revision", args=[job.pk, revision.number]) if revision else reverse("quote", args=[job.pk])
        case "sign" if read.facts.revision is not None:
            return reverse("revision", args=[job.pk, read.facts.revision.number]) + "#sending"
        case "answer":
            return reverse("questions", args=[job.pk])
        case "mend":
            return reverse("finish_list", args=[job.pk])
        case "follow":
            return reverse("follow_up", args=[job.pk])
        case "collect":
            return reverse("payments", args=[job.pk])
        case "ask" | "bill":
            return reverse("since_signed", args=[job.pk])
        case "note":
            return reverse("change_note", args=[job.pk, int(step.about)])
        case "settle" | "receive" if step.about in orders:
            return reverse("order", args=[orders[step.about]])
        case "begin" | "end":
            return reverse("job_dates", args=[job.pk])
        case "confirm" | "wait" | "order":
            return _item_or_wall(job, step)
        case "close":
            return reverse("job", args=[job.pk]) + "#about"
        case _:
            return reverse("job_order_dates", args=[job.pk])


def _item_or_wall(job: Job, step: Step) -> str:
    if step.act == "order" and step.about:
        return reverse("order_item", args=[job.pk, step.about])
    if step.about and step.who == "lead":
        return reverse("field_check", args=[job.pk, step.about])
    if step.who == "lead":
        return f"{reverse('templates', args=[job.pk])}" if step.act == "wait" else reverse("site_sheet", args=[job.pk])
    return f"{reverse('job_order_dates', args=[job.pk])}?{urlencode({'job': job.key})}"
