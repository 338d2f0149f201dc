"""Order sheets: filled from what the lines state, made in the background, kept with the order."""

import hashlib
import json
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime

from catalog.core.ground.units import System, format_both, format_length
from catalog.core.materials.specs import Firm
from catalog.services.book import book_of
from catalog.services.firm_on_paper import firm_party, sheet_size
from jobs.core.ordering.order_by import dock_by
from jobs.core.ordering.order_lines import OrderStatement, StatedRun, part_of, read_statement
from jobs.orders.models import Order, OrderLine
from jobs.orders.papers.order_sheet import OrderSheetPaper, SheetLine, SheetRadius, SheetRun
from jobs.site.services.drawings import section_drawing
from jobs.work_up.services.job_work_up import work_of
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import queue_errand
from quoting.platform.formatting import amount_words, day_words
from quoting.platform.models.columns import normalized
from quoting.platform.papers.drawings import Drawing
from quoting.platform.papers.paper_documents import write_paper
from quoting.platform.papers.papers import RENDER_ORDER_SHEET
from quoting.platform.papers.parts import Measure, Party

ASKS = (
    "Quantity, lengths and price of each line.",
    "Each radius and the face it is measured at.",
    "The day it will be at our dock.",
)
NOTHING_SAID = "not stated"
SECTION_HEIGHT_MM = 88.0


@dataclass(frozen=True)
class Live:
    """docks: when each item must be at the dock, by id of the job and material. sections: by job and wall's name."""

    today: date
    docks: Mapping[tuple[int, str], date]
    sections: Mapping[tuple[int, str], Drawing]


def request_sheet(order: Order, by: str, now: datetime, moment: datetime) -> Errand:
    """The same sheet asked for twice is one paper. moment: now by the firm's own clock."""
    document = write_paper(order_sheet(order, by, moment))
    digest = hashlib.sha256(json.dumps(document, sort_keys=True).encode()).hexdigest()
    return queue_errand(RENDER_ORDER_SHEET, f"{order.number} {digest}", {"order": order.pk, "paper": document}, now)


def sheet_errand(order: Order) -> Errand | None:
    asked = Errand.objects.filter(kind=RENDER_ORDER_SHEET, payload__order=order.pk)
    return asked.defer("payload").order_by("-pk").first()


def order_sheet(order: Order, by: str, moment: datetime) -> OrderSheetPaper:
    firm = book_of().firm
    rows = list(order.lines.select_related("job__client", "material"))
    live = _live(rows, moment)
    supplier = order.supplier
    return OrderSheetPaper(
        number=order.number,
        is_draft=order.placed_on is None,
        ordered_on=day_words(order.placed_on or moment.date()),
        prepared_by=order.placed_by_name or by,
        firm=firm_party(firm),
        supplier=Party(supplier.name, tuple(one for one in (supplier.email,) if one)),
        lines=tuple(_line(row, firm, live) for row in rows),
        note=order.note,
        asks=ASKS,
        sheet_size=sheet_size(firm),
    )


def _live(rows: Iterable[OrderLine], moment: datetime) -> Live:
    """What the sheet takes from the jobs as they stand now; a job that cannot be worked out gives nothing."""
    docks: dict[tuple[int, str], date] = {}
    sections: dict[tuple[int, str], Drawing] = {}
    for row in {row.job_id: row for row in rows}.values():
        done = work_of(row.job, book_of(), moment.date()).done
        if done is None:
            continue
        firm = done.read.book.firm.calendar
        for need in done.needs:
            if need.dates is not None:
                docks[row.job_id, need.material] = dock_by(need.dates.need_by, need.cushion_workdays, firm)
        for wall in done.walls:
            drawing = section_drawing(wall, done.read.book, SECTION_HEIGHT_MM)
            if drawing is not None:
                sections[row.job_id, wall.spec.name] = drawing
    return Live(moment.date(), docks, sections)


def _line(row: OrderLine, firm: Firm, live: Live) -> SheetLine:
    statement = read_statement(row.statement)
    notes, part = list[str](), part_of(statement, normalized(row.quantity))
    if part is None:
        part = statement
        which = "the note says which" if row.replaces_id is None else "which ones is to be told"
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
        runs=tuple(_runs(row, part, firm.display_units, live)),
        amount="" if row.amount is None else f"{firm.currency} {amount_words(row.amount)}",
        note=" ".join(notes),
        missing=_missing(part),
    )


def _dock_by(row: OrderLine, live: Live) -> str:
    """The day it must be there; once that cannot be kept any more, that it is late already."""
    day = live.docks.get((row.job_id, row.material_id)) or row.quoted_dock_on
    if day is None:
        return "to be agreed"
    if day <= live.today and row.need_by is not None:
        return f"as soon as can be; needed {day_words(row.need_by)}"
    return day_words(day)


def _missing(statement: OrderStatement) -> tuple[str, ...]:
    """What a maker would have to ask: each is a field of the sheet that is empty."""
    told = []
    for run in statement.runs:
        empty = [name for name, value in (("size", run.size), ("grade", run.grade), ("application", run.application))]
        values = (run.size, run.grade, run.application)
        told += [f"{run.wall}, {run.run}: {name}" for name, value in zip(empty, values, strict=True) if not value]
        if not run.piece_lengths_mm:
            told.append(f"{run.wall}, {run.run}: number and lengths of pieces")
        if run.splices_allowed is None:
            told.append(f"{run.wall}, {run.run}: whether splices are allowed")
    return tuple(told)


def _runs(row: OrderLine, statement: OrderStatement, system: System, live: Live) -> Iterable[SheetRun]:
    drawn: set[str] = set()
    for run in statement.runs:
        drawing = live.sections.get((row.job_id, run.wall)) if run.wall not in drawn else None
        drawn.add(run.wall)
        radii = tuple(
            SheetRadius(
                f"piece {one.piece}",
                one.side,
                format_both(one.radius_mm),
                one.measured_at,
                format_length(one.arc_length_mm, system),
            )
            for one in run.radii
        )
        yield SheetRun(
            f"{run.run}, {run.wall}",
            tuple(_facts(run, statement, system)),
            radii,
            _pieces(run, system),
            (drawing,) if drawing else (),
        )


def _facts(run: StatedRun, statement: OrderStatement, system: System) -> Iterable[Measure]:
    splices = {None: NOTHING_SAID, True: "allowed", False: "not allowed"}[run.splices_allowed]
    yield Measure("Profile", run.profile)
    yield Measure("Size", run.size or NOTHING_SAID)
    yield Measure("Grade", run.grade or NOTHING_SAID)
    yield Measure("Application", run.application or NOTHING_SAID)
    yield Measure("Shape", run.shape)
    yield Measure("Splices", splices, f"{run.splice_count} on this run{_joined(statement)}" if run.splice_count else "")
    if run.straight_tails_mm:
        yield Measure("Straight tails", ", ".join(format_length(one, system) for one in run.straight_tails_mm))
    if run.mitres:
        cuts = (
            f"after piece {one.after_piece}, {one.corner}, {one.cut_rad * 57.29577951308232:.1f}°" for one in run.mitres
        )
        yield Measure("Mitres", "; ".join(cuts), "each angle is of the cut, off square")


def _joined(statement: OrderStatement) -> str:
    return f", joined by {statement.splice}" if statement.splice else ""


def _pieces(run: StatedRun, system: System) -> tuple[Measure, ...]:
    counted = Counter(run.piece_lengths_mm)
    return tuple(
        Measure(str(count), format_length(length_mm, system))
        for length_mm, count in sorted(counted.items(), reverse=True)
    )
