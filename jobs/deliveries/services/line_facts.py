"""How lines of placed orders stand, from their rows, for what goes otherwise than they were ordered."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, time
from decimal import Decimal

from django.db.models import Exists, OuterRef, Q, QuerySet

from catalog.core.ground.document_reader import DocumentError
from catalog.core.materials import specs
from catalog.services.book import firm_of, materials_with_parts
from catalog.services.suppliers import suppliers_by_code
from jobs.core.ordering.deviations import ConfirmedFacts, LineFacts, PromiseFacts, Settled, ShortFacts
from jobs.core.ordering.needs import DatedNeed, counted_on
from jobs.core.ordering.order_lines import mark_of, read_statement
from jobs.core.ordering.wall_moves import OrderedFit, OrderedPieces, ordered_fits, under_new_names
from jobs.deliveries.models import ConfirmedLine, ReceiptLine
from jobs.deliveries.services.comparing_orders import ComparedLine, compared_of
from jobs.deliveries.services.receiving import state_of
from jobs.needs.models import StoredNeed
from jobs.orders.models import OrderLine, OrderState, Release
from jobs.orders.services.line_statement import statement_of_line
from jobs.orders.services.ordered_so_far import ItemKey, carried_line, ordered_so_far, received_of
from jobs.orders.services.replacement_lines import REPLACED_PARTS, stands_for, worth_of
from quoting.platform import clock
from quoting.platform.firm_day import moment_at_the_firm
from quoting.platform.models.columns import normalized


def lines_to_look_at(rows: QuerySet[OrderLine]) -> QuerySet[OrderLine]:
    """Placed lines of open jobs anything can be otherwise of: confirmed, promised, come bad, or made for the job."""
    confirmed = Exists(ConfirmedLine.objects.filter(line=OuterRef("pk")))
    bad = Exists(ReceiptLine.objects.filter(Q(damaged__gt=0) | Q(wrong__gt=0), line=OuterRef("pk")))
    known = confirmed | bad | Q(promised_on__isnull=False) | ~Q(material__supply="stocked")
    placed = rows.filter(known, order__state=OrderState.PLACED, job__closed_on=None)
    placed = placed.select_related("order__supplier", "job", "material")
    parts = (*REPLACED_PARTS, "receipts__delivery", "promises", "settlements")
    return placed.prefetch_related(*parts).order_by("order__number", "place")


@dataclass(frozen=True)
class _Read:
    """All that is read of all lines at once. covered: items of which nothing is still to be ordered. now_at: the firm's
    hour, of a day that is not today None."""

    needs: dict[ItemKey, StoredNeed]
    confirmed: dict[int, ComparedLine]
    releases: dict[ItemKey, Release]
    covered: Collection[ItemKey]
    materials: dict[str, specs.Material]
    suppliers: Mapping[str, specs.Supplier]
    firm: specs.Firm
    today: date
    now_at: time | None


def facts_of(lines: Collection[OrderLine], today: date) -> Iterator[tuple[OrderLine, LineFacts]]:
    """In a number of queries that does not grow with the lines."""
    if not lines:
        return
    read = _read(lines, today)
    for line in lines:
        yield line, _facts(line, read)


def _read(lines: Collection[OrderLine], today: date) -> _Read:
    moment = moment_at_the_firm(clock.now())
    keys, firm = {(line.job_id, line.material_id) for line in lines}, firm_of()
    jobs, codes = {job for job, _ in keys}, {code for _, code in keys}
    rows = StoredNeed.objects.filter(job__in=jobs, material__in=codes).select_related("job")
    needs = {(row.job_id, row.material): row for row in rows}
    released = Release.objects.filter(job__in=jobs, material__in=codes, ended_at=None)
    compared = compared_of(ConfirmedLine.objects.filter(line__in=lines), firm.display_units)
    bad = {
        (line.job_id, line.material_id) for line in lines if any(received_of(each).bad for each in line.receipts.all())
    }
    ordered = ordered_so_far({key: needs[key].statement for key in bad if key in needs})
    moved = {line.material_id for line in lines if _has_moved(line, needs.get((line.job_id, line.material_id)))}
    return _Read(
        needs,
        {row.row.line_id: row for row in compared},
        {(row.job_id, row.material_id): row for row in released},
        {key for key, so_far in ordered.items() if so_far.is_covered},
        {row.code: row.to_core() for row in materials_with_parts().filter(code__in=moved)} if moved else {},
        suppliers_by_code() if bad else {},
        firm,
        today,
        moment.time() if moment.date() == today else None,
    )


def _facts(line: OrderLine, read: _Read) -> LineFacts:
    need = read.needs.get((line.job_id, line.material_id))
    state, compared = state_of(line), read.confirmed.get(line.pk)
    promises = list(line.promises.all())
    return LineFacts(
        order=line.order.number,
        supplier=line.order.supplier.name,
        what=line.what,
        need_by=need.need_by if need and need.need_by else line.need_by,
        cushion_workdays=need.cushion_workdays if need else read.firm.cushion_workdays,
        is_complete=not state.open,
        confirmed=_confirmed(compared) if compared else None,
        promise=PromiseFacts(line.promised_on, promises[-1].told_on) if line.promised_on and promises else None,
        misfits=tuple(_misfits(line, need, state.open, state.good, read)) if need else (),
        short=_short(line, need, read),
        settled=tuple(
            Settled(settlement.mark, settlement.how, settlement.settled_on, settlement.need_by)  # type: ignore[arg-type]
            for settlement in line.settlements.all()
        ),
        place=line.place,
    )


def _confirmed(compared: ComparedLine) -> ConfirmedFacts:
    row = compared.row
    accepted = row.settled_at is not None
    return ConfirmedFacts(
        f"confirmed {row.pk}", compared.comparison, row.confirmation.received_on, accepted, row.promised_on
    )


def _misfits(line: OrderLine, need: StoredNeed, awaited: Decimal, good: Decimal, read: _Read) -> Iterable[OrderedFit]:
    """Of made pieces on the way or here; none once the item was released anew as it stands now."""
    gone = sum((goods.quantity for goods in line.returns.all()), Decimal(0))
    if not _has_moved(line, need) or (not awaited and good <= gone) or _is_released_anew(line, need, read):
        return
    statement, material = statement_of_line(line), read.materials[line.material_id]
    try:
        now = read_statement(need.statement)
    except DocumentError:
        return
    if statement is not None:
        pieces = OrderedPieces(line.order.number, "on_order" if awaited else "on_site", under_new_names(statement, now))
        yield from (fit for fit in ordered_fits(pieces, now, material) if fit.fit != "fits")


def _has_moved(line: OrderLine, need: StoredNeed | None) -> bool:
    stated, wanted = line.statement.get("runs"), need.statement.get("runs") if need else None
    return bool(stated and wanted) and [run["radii"] for run in stated] != [run["radii"] for run in wanted]


def _is_released_anew(line: OrderLine, need: StoredNeed, read: _Read) -> bool:
    release = read.releases.get((line.job_id, line.material_id))
    if release is None or line.order.placed_at is None or release.released_at <= line.order.placed_at:
        return False
    return release.statement_mark == mark_of(need.statement)


def _short(line: OrderLine, need: StoredNeed | None, read: _Read) -> ShortFacts | None:
    """What came bad and stands on no placed order in its place, while the item is not covered by others."""
    bad = [receipt for receipt in line.receipts.all() if received_of(receipt).bad]
    if not bad or (line.job_id, line.material_id) in read.covered:
        return None
    again = [replacement for replacement in line.replaced_by.all() if replacement.order.state == OrderState.PLACED]
    quantity = normalized(carried_line(line).short - sum(map(stands_for, again), Decimal(0)))
    if quantity <= 0:
        return None
    dated = _counted(need, read) if need else None
    return ShortFacts(
        f"short {','.join(str(receipt.pk) for receipt in sorted(bad, key=lambda receipt: receipt.pk))}"[:200],
        quantity,
        line.unit,
        max(receipt.delivery.received_on for receipt in bad),
        worth_of(line, quantity),
        dated.dates.order_by if dated and dated.dates else None,
        dated.if_ordered_today.usable if dated and dated.if_ordered_today else None,
        dated.late_workdays if dated else None,
    )


def _counted(need: StoredNeed, read: _Read) -> DatedNeed:
    seller = read.suppliers.get(need.supplier)
    return counted_on(need.to_core(), seller, read.firm.calendar, read.today, read.now_at)
