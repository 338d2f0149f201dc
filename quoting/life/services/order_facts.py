"""What of jobs' lives their needs, orders and what came of them say, from rows; some queries for many jobs."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field, replace
from datetime import date
from itertools import groupby

from catalog.services.book import NoFirmYet
from jobs.core.measure.dimension_holds import Hold
from jobs.core.ordering.next_steps import HeldItem, next_steps
from jobs.core.ordering.order_lines import count_in_words
from jobs.core.ordering.release import STEPS, JobStanding
from jobs.core.takeoff.held_templates import TEMPLATE
from jobs.deliveries.services.deviations import standing_of_jobs
from jobs.needs.models import StoredNeed
from jobs.orders.models import OrderLine, OrderState
from jobs.orders.services.job_standings import Samples, item_holds, samples_of
from jobs.orders.services.ordered_so_far import line_coming, ordered_so_far
from jobs.walls.models import Wall
from quoting.core.life.facts import ComingFacts, ItemFacts, JobFacts, OtherwiseFacts, WaitFacts

# What the quote and its payments wait for is said of the job itself.
AGREED = JobStanding(accepted=True)


@dataclass
class _Of:
    """Of one job, as it is gathered."""

    wanted: int = 0
    ordered: int = 0
    to_order: list[StoredNeed] = field(default_factory=list)
    lines: list[OrderLine] = field(default_factory=list)
    otherwise: list[OtherwiseFacts] = field(default_factory=list)


def ordered(result: dict[int, JobFacts], today: date) -> dict[int, JobFacts]:
    """The same facts of jobs, by id, with what is ordered, what is not, and what of it goes otherwise."""
    gathered: defaultdict[int, _Of] = defaultdict(_Of)
    names = _needs(result, gathered)
    _lines(result, gathered)
    _otherwise(result, gathered, today)
    samples, walls = samples_of(result), _wall_keys(result)
    return {
        job: _with(facts, gathered[job], names, _held(gathered[job].to_order, samples, walls, today))
        for job, facts in result.items()
    }


def _needs(job_ids: Collection[int], gathered: dict[int, _Of]) -> dict[tuple[int, str], StoredNeed]:
    rows = list(StoredNeed.objects.filter(job__in=job_ids).exclude(quantity=0).order_by("order_by", "pk"))
    so_far = ordered_so_far({(row.job_id, row.material): row.statement for row in rows})
    for row in rows:
        entry, lines = gathered[row.job_id], so_far.get((row.job_id, row.material))
        entry.wanted += 1
        if lines is not None and lines.is_covered:
            entry.ordered += 1
        else:
            entry.to_order.append(row)
    return {(row.job_id, row.material): row for row in rows}


def _lines(job_ids: Collection[int], gathered: dict[int, _Of]) -> None:
    rows = OrderLine.objects.filter(job__in=job_ids, order__state=OrderState.PLACED)
    rows = rows.select_related("order", "material").prefetch_related("receipts", "returns")
    for row in rows.order_by("order__placed_on", "pk"):
        gathered[row.job_id].lines.append(row)


def _otherwise(job_ids: Collection[int], gathered: dict[int, _Of], today: date) -> None:
    try:
        for line, facts, deviation, told_from in standing_of_jobs(job_ids, today):
            short = facts.short if deviation.kind == "short" else None
            amount = count_in_words(short.quantity, short.unit) if short else ""
            # What to do about it may name a day, which only the reader's day gives.
            action = "Order again what came bad" if short else deviation.action
            since = max(told_from, deviation.since or line.order.placed_on or today)
            gathered[line.job_id].otherwise.append(
                OtherwiseFacts(deviation.kind, deviation.order, action, since, amount)
            )
    except NoFirmYet:
        return


def _with(
    facts: JobFacts,
    of: _Of,
    needs: dict[tuple[int, str], StoredNeed],
    held: tuple[list[HeldItem], set[tuple[str, str]]],
) -> JobFacts:
    items, dimensions = held
    placed = [line.order.placed_on for line in of.lines if line.order.placed_on]
    return replace(
        facts,
        placed_on=min(placed, default=None),
        wanted=of.wanted,
        ordered=of.ordered,
        to_order=tuple(
            ItemFacts(row.material, short_name(row.name), row.supply != "stocked", row.decide_by, row.order_by)
            for row in of.to_order
        ),
        coming=tuple(_coming(of.lines, needs)),
        waits=tuple(_waits(items, dimensions)),
        otherwise=tuple(of.otherwise),
        dimensions=len(dimensions),
    )


def _coming(lines: Iterable[OrderLine], needs: dict[tuple[int, str], StoredNeed]) -> Iterator[ComingFacts]:
    """Order by order and day by day."""
    awaited = [(line, line_coming(line)) for line in lines if line.ended_on is None]
    open_ones = [(line.order.number, coming.expected_on, line) for line, coming in awaited if coming.expected > 0]
    open_ones.sort(key=lambda row: (row[0], row[1] or date.max, row[2].pk))
    for (order, day), group in groupby(open_ones, key=lambda row: row[:2]):
        result = [line for _, _, line in group]
        wanted = [needs.get((line.job_id, line.material_id)) for line in result]
        days = [(need.need_by if need else None) or line.need_by for need, line in zip(wanted, result, strict=True)]
        name = wanted[0].name if wanted[0] else result[0].material.name
        more = f" and {len(result) - 1} more" if len(result) > 1 else ""
        yield ComingFacts(order, short_name(name) + more, day, min((entry for entry in days if entry), default=None))


def short_name(name: str) -> str:
    """What a material is called on the job: size, grade and make stand with its order."""
    return name.partition(",")[0]


def _wall_keys(job_ids: Collection[int]) -> dict[tuple[int, str], str]:
    rows = Wall.objects.filter(job__in=job_ids).values_list("job", "name", "key")
    return {(job, name): key for job, name, key in rows}


def _held(
    rows: Iterable[StoredNeed], samples: Samples, walls: dict[tuple[int, str], str], today: date
) -> tuple[list[HeldItem], set[tuple[str, str]]]:
    """Items not in stock that wait for somebody, and the dimensions they wait for: wall, and words."""
    items: list[HeldItem] = []
    for row in rows:
        if row.supply == "stocked":
            continue
        need, sample = row.to_core(), samples.get((row.job_id, row.material), "not_needed")
        holds = item_holds(need, row.missing, row.field_checked_on, AGREED, sample, today)
        names = dict.fromkeys(run["wall"] for run in row.statement.get("runs", ()))
        made_for = tuple(key for name in names if (key := walls.get((row.job_id, name))))
        items.append(HeldItem(row.job_id, row.material, row.name, row.order_by, holds, need.open_holds, made_for))
    return items, {
        (_wall_of(dimension), dimension.words)
        for item in items
        for dimension in item.dimensions
        if dimension.dimension != TEMPLATE
    }


def _wall_of(hold: Hold) -> str:
    return hold.line.partition("/")[0]


def _waits(items: list[HeldItem], dimensions: set[tuple[str, str]]) -> Iterator[WaitFacts]:
    if dimensions:
        held = [item for item in items if any(dimension.dimension != TEMPLATE for dimension in item.dimensions)]
        by = min((item.order_by for item in held if item.order_by), default=None)
        walls = {wall for wall, _ in dimensions}
        wall = min(walls) if len(walls) == 1 else ""
        yield WaitFacts("dimension", "lead", "Confirm dimensions on site.", len(dimensions), wall, "", by)
    for step in STEPS:
        for entry in next_steps(items, step):
            if entry.kind != "dimension":
                material = entry.materials[0] if len(entry.materials) == 1 else ""
                yield WaitFacts(entry.kind, step, entry.sentence, 1, entry.wall, material, entry.by)
