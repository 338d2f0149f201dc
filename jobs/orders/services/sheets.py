"""Order sheets: filled from what the lines state, made in the background, kept with the order."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from catalog.core.ground.units import System
from catalog.core.leads.order_terms import OrderTerms
from catalog.core.materials.specs import Firm
from catalog.drawings.profile import material_profile_svg
from catalog.drawings.svg import DrawingInputError
from catalog.services.book import book_of
from catalog.services.firm_on_paper import firm_party, sheet_size, supplier_party
from jobs.core.ordering.chasing import confirm_by
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.ordering.order_by import dock_by
from jobs.core.ordering.order_lines import OrderStatement, part_of, read_statement
from jobs.orders.models import DeliverTo, Order, OrderLine
from jobs.orders.papers.order_sheet import OrderSheetPaper, SheetLine
from jobs.orders.services.order_totals import OrderSums, sums_of
from jobs.orders.services.sheet_runs import runs_of
from jobs.work_up.services.job_work_up import work_of
from quoting.platform.errands.models import Errand
from quoting.platform.formatting import amount_words, day_words
from quoting.platform.models.columns import normalized
from quoting.platform.papers.drawings import Drawing
from quoting.platform.papers.papers import RENDER_ORDER_SHEET, last_asked, queue_paper
from quoting.platform.papers.parts import Measure, Party

ASKS = (
    "Quantity, lengths and price of each line.",
    "Each radius and the face it is measured at.",
    "The day it will be at our dock.",
)
PROFILE_RATIOS = (1, 2)
PROFILE_WIDTH_MM, PROFILE_HEIGHT_MM = 58.0, 180.0


@dataclass(frozen=True)
class Live:
    """docks: when each item must be at the dock, by id of the job and material. works: by id of the job."""

    today: date
    docks: Mapping[tuple[int, str], date]
    works: Mapping[int, JobWorkUp]


def request_sheet(order: Order, by: str, now: datetime, moment: datetime) -> Errand:
    """The same sheet asked for twice is one paper. moment: now by the firm's own clock."""
    return queue_paper(RENDER_ORDER_SHEET, order.number, order_sheet(order, by, moment), now, order=order.pk)


def sheet_errand(order: Order) -> Errand | None:
    return last_asked(RENDER_ORDER_SHEET, order=order.pk)


def order_sheet(order: Order, by: str, moment: datetime) -> OrderSheetPaper:
    firm = book_of().firm
    rows = list(order.lines.select_related("job__client", "material"))
    live = _live(rows, moment)
    supplier = order.supplier.to_core()
    docks = [day for row in rows if (day := _dock_day(row, live)) is not None]
    return OrderSheetPaper(
        number=order.number,
        is_draft=order.placed_on is None,
        ordered_on=day_words(order.placed_on or moment.date()),
        prepared_by=order.placed_by_name or by,
        reference=", ".join(dict.fromkeys([order.number, *(row.job.key for row in rows)])),
        confirm_by=day_words(confirm_by(order.placed_on or moment.date(), firm.calendar)),
        dock_by=day_words(min(docks)) if docks else "to be agreed",
        firm=firm_party(firm),
        supplier=supplier_party(supplier),
        to_site=order.deliver_to == DeliverTo.SITE,
        deliver_to=_delivered_to(order, rows, firm),
        lines=tuple(_line(row, firm, live) for row in rows),
        sums=tuple(_sums(sums_of(order, rows, supplier.terms), firm.currency)),
        terms=tuple(_terms(supplier.terms)),
        note=order.note,
        asks=ASKS,
        sheet_size=sheet_size(firm),
    )


def _delivered_to(order: Order, rows: Sequence[OrderLine], firm: Firm) -> Party:
    if order.deliver_to == DeliverTo.SITE and rows:
        where, lines = "The site", [*rows[0].job.site_address.splitlines(), *firm.contact.splitlines()]
    else:
        where, lines = "Our dock", [*firm.address.splitlines(), *firm.contact.splitlines()]
    return Party(where, tuple(line for line in lines if line.strip()) or ("Ask us for the address.",))


def _sums(sums: OrderSums, currency: str) -> Iterable[Measure]:
    def words(amount: Decimal | None) -> str:
        return "please state" if amount is None else f"{currency} {amount_words(amount)}"

    yield Measure("Goods", words(None if sums.unpriced else sums.goods))
    yield Measure("Freight", words(sums.sure_freight))
    if sums.rush_fee != 0:
        yield Measure("Rush", words(sums.rush_fee))
    yield Measure("Total before tax", words(sums.total))


def _terms(terms: OrderTerms | None) -> Iterable[str]:
    if terms is not None:
        stated = f"{terms.source}, {day_words(terms.stated_on)}" if terms.stated_on else terms.source
        yield f"On your terms as we know them: {stated}."
        if terms.claim_days is not None:
            days = "calendar" if terms.claim_counts == "calendar_days" else "working"
            yield f"Damage is claimed within {terms.claim_days} {days} days of receipt."


def _live(rows: Iterable[OrderLine], moment: datetime) -> Live:
    """What the sheet takes from the jobs as they stand now; a job that cannot be worked out gives nothing."""
    docks: dict[tuple[int, str], date] = {}
    works: dict[int, JobWorkUp] = {}
    for row in {row.job_id: row for row in rows}.values():
        result = work_of(row.job, book_of(), moment.date()).done
        if result is None:
            continue
        works[row.job_id], firm = result, result.read.book.firm.calendar
        for need in result.needs:
            if need.dates is not None:
                docks[row.job_id, need.material] = dock_by(need.dates.need_by, need.cushion_workdays, firm)
    return Live(moment.date(), docks, works)


def _line(row: OrderLine, firm: Firm, live: Live) -> SheetLine:
    statement = read_statement(row.statement)
    notes, part = list[str](), part_of(statement, normalized(row.quantity))
    if part is None:
        part = statement
        which = "the note says which" if row.replaces_id is None else "ask us which"
        how = "Only" if statement.quantity is None or row.quantity < statement.quantity else "More than stated:"
        notes.append(f"{how} {normalized(row.quantity):f} {row.unit} of those stated here; {which}.")
    if row.rush:
        notes.append("To be rushed, as agreed.")
    if row.replaces_id is not None:
        notes.append("In the place of pieces that came damaged or wrong.")
    return SheetLine(
        place=str(row.place),
        what=row.what,
        quantity=f"{normalized(row.quantity):f} {row.unit}",
        job=row.job.key,
        dock_by=_dock_by(row, live),
        packs=tuple(f"{pack.count} x {pack.label}" for pack in part.packs),
        runs=tuple(runs_of(row, part, live.works.get(row.job_id), firm.display_units)),
        profile=_profile(row, firm.display_units) if part.runs else None,
        amount="" if row.amount is None else f"{firm.currency} {amount_words(row.amount)}",
        note=" ".join(notes),
        missing=_missing(part),
    )


def _dock_by(row: OrderLine, live: Live) -> str:
    """The day it must be there; once that cannot be kept any more, that it is late already."""
    day = _dock_day(row, live)
    if day is None:
        return "to be agreed"
    if day <= live.today and row.need_by is not None:
        return f"as soon as can be; needed {day_words(row.need_by)}"
    return day_words(day)


def _dock_day(row: OrderLine, live: Live) -> date | None:
    return live.docks.get((row.job_id, row.material_id)) or row.quoted_dock_on


def _missing(statement: OrderStatement) -> tuple[str, ...]:
    """What a maker would have to ask: each is a field of the sheet that is empty."""
    missing = []
    for run in statement.runs:
        empty = [name for name, value in (("size", run.size), ("grade", run.grade), ("application", run.application))]
        values = (run.size, run.grade, run.application)
        missing += [f"{run.wall}, {run.run}: {name}" for name, value in zip(empty, values, strict=True) if not value]
        if not run.piece_lengths_mm:
            missing.append(f"{run.wall}, {run.run}: number and lengths of pieces")
        if run.splices_allowed is None:
            missing.append(f"{run.wall}, {run.run}: whether splices are allowed")
    return tuple(missing)


def _profile(row: OrderLine, system: System) -> Drawing | None:
    """In its own size, or half of it where that does not fit the sheet; None where its sizes are not entered."""
    try:
        picture = material_profile_svg(
            row.material.to_core(),
            system=system,
            paper_width_mm=PROFILE_WIDTH_MM,
            max_height_mm=PROFILE_HEIGHT_MM,
            ratios=PROFILE_RATIOS,
            has_bar=False,
        )
    except DrawingInputError:
        return None
    return Drawing(picture.svg, f"Line {row.place}: section of {row.material.name}", picture.scale)
