"""Cut lists over all walls of the job, and when each material is needed. No price and no supplier is read here."""

from collections import Counter
from collections.abc import Iterable, Sequence

from catalog.core.ground.plain_text import plain
from catalog.core.materials.catalog_data import Catalog
from jobs.core.boards.boards import BoughtSheet
from jobs.core.cutting.cutting import Stick
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.takeoff.cut_list import sticks_on_hand
from jobs.core.takeoff.takeoff import Purchase
from jobs.site.papers.site_parts import SiteSection, SiteTable
from jobs.site.services.on_site import Arrival, arrival_words
from jobs.site.services.sheet_numbers import sheets_of
from jobs.site.services.words import Say, lengths_in
from quoting.platform.formatting import day_words

MERGED = "Walls are cut together: an off-cut of one serves another."
LENGTHS = "Lengths are of the pieces; a saw cut comes between each two, and comes off what is left over."
CHOSEN = "These cut lists follow a plan chosen for the job. It was checked against the walls independently."
OFF_CUTS = (
    "Sheets of one board, hung one way, are shared by all layers, faces and walls of the job. Boards are never "
    "turned; a board under a slope takes its whole rectangle."
)


def cut_lists(work_up: JobWorkUp) -> SiteSection | None:
    say = lengths_in(work_up.read.book.firm.display_units)
    tables = (*_sticks(work_up, say), *_sheets(work_up, say))
    chosen = [CHOSEN] if work_up.read.job.plans.boards or work_up.read.job.plans.sticks else []
    merged = [MERGED] if len(work_up.walls) > 1 else []
    return SiteSection("Cut lists of the job", (*merged, LENGTHS, OFF_CUTS, *chosen), tables) if tables else None


def materials(work_up: JobWorkUp, arrivals: Sequence[Arrival] = ()) -> SiteSection | None:
    """arrivals: what has come of the job so far."""
    return SiteSection("Materials of the job", (), (_needed(work_up, arrivals),)) if work_up.takeoff.purchases else None


def _sticks(work_up: JobWorkUp, say: Say) -> Iterable[SiteTable]:
    for purchase in work_up.takeoff.purchases:
        if purchase.cuts is None:
            continue
        labels = {pack.pack: pack.label for pack in purchase.packs}
        on_hand = sticks_on_hand(purchase.material, work_up.read.job.plans.on_hand)
        labels |= {code: f"on hand, {say(length_mm)}" for code, _, length_mm in on_hand}
        # Sticks cut alike are one row.
        wall = _only_wall(work_up)
        alike = Counter(
            (stick.stock_code, _cut_words(stick, say, wall), say(stick.leftover_mm)) for stick in purchase.cuts.sticks
        )
        rows = tuple((str(count), labels.get(code, code), words, left) for (code, words, left), count in alike.items())
        columns = ("Sticks", "Of", "Cut each into", "Left over")
        notes = [f"Saw cut {say(purchase.cuts.kerf_mm)}."]
        leftovers = Counter(say(left) for _, left in purchase.cuts.leftovers)
        if leftovers:
            offcuts = ", ".join(f"{count} × {length}" for length, count in leftovers.items())
            notes.append(f"Worth keeping, {say(purchase.cuts.usable_offcut_mm)} and longer: {offcuts}.")
        yield SiteTable(purchase.name, columns, rows, words=(1, 2), notes=tuple(notes))


def _only_wall(work_up: JobWorkUp) -> str:
    """The name of the job's wall, which pieces need not carry; empty where there are several."""
    return work_up.walls[0].spec.name if len(work_up.walls) == 1 else ""


def _cut_words(stick: Stick, say: Say, wall: str) -> str:
    counted = Counter((cut.label.removeprefix(f"{wall} "), say(cut.length_mm)) for cut in stick.cuts)
    return "; ".join(f"{count} × {length} {label}" for (label, length), count in counted.items())


def _sheets(work_up: JobWorkUp, say: Say) -> Iterable[SiteTable]:
    only_wall = bool(_only_wall(work_up))
    names = {wall.spec.key: "" if only_wall else f"{wall.spec.name}, " for wall in work_up.walls}
    for purchase in work_up.takeoff.purchases:
        sheets = purchase.sheets
        if sheets is None:
            continue
        rows = [
            _sheet_row(number, sheet, sheets.pieces, names, work_up.read.book, say)
            for number, sheet in sheets_of(purchase)
        ]
        yield _sheet_table(purchase.name, rows)


def _sheet_table(name: str, rows: Sequence[tuple[str, ...]]) -> SiteTable:
    """Sheets that are all alike are named once."""
    packs, columns = {row[1] for row in rows}, ("Sheet", "Of", "Boards cut from it", "Left over")
    if len(packs) > 1:
        return SiteTable(name, columns, tuple(rows), words=(1, 2, 3))
    short = tuple((row[0], *row[2:]) for row in rows)
    return SiteTable(name, (columns[0], *columns[2:]), short, words=(1, 2), notes=(f"Each a {packs.pop()}.",))


def _sheet_row(
    number: int,
    sheet: BoughtSheet,
    pieces: tuple[tuple[str, str, int], ...],
    names: dict[str, str],
    book: Catalog,
    say: Say,
) -> tuple[str, ...]:
    rows = []
    for cut in sheet.cuts:
        wall, face, piece = pieces[cut.piece - 1]
        rows.append(f"{names[wall]}{face} {piece}: {say(cut.width_mm)} × {say(cut.height_mm)}")
    left = "; ".join(f"{say(offcut.width_mm)} × {say(offcut.height_mm)}" for offcut in sheet.offcuts)
    return str(number), _pack_words(sheet, book), "; ".join(rows), left or "nothing"


def _pack_words(sheet: BoughtSheet, book: Catalog) -> str:
    material = book.materials.get(sheet.board)
    packs = material.packs if material else ()
    return next((pack.label for pack in packs if pack.code == sheet.pack_code), sheet.pack_code)


def _needed(work_up: JobWorkUp, arrivals: Sequence[Arrival]) -> SiteTable:
    needs = {need.material: need for need in work_up.needs}
    rows = []
    for purchase in work_up.takeoff.purchases:
        need = needs.get(purchase.material)
        day = day_words(need.need_by) if need and need.need_by else "not dated"
        came = arrival_words(arrival for arrival in arrivals if arrival.material == purchase.material)
        rows.append((purchase.name, packs_words(purchase), day, came))
    columns = ("Material", "For the job", "Needed on site by", "On site, day and count")
    note = "Counts hold the waste and breakage spares of the takeoff."
    by_hand = () if any(row[3] for row in rows) else (3,)
    return SiteTable(
        "What is to be on site, and when", columns, tuple(rows), words=(0, 1, 2, 3), notes=(note,), by_hand=by_hand
    )


def packs_words(purchase: Purchase) -> str:
    counted = ", ".join(f"{pack.count} × {pack.label}" for pack in purchase.packs)
    return counted or f"{plain(purchase.buy)} {purchase.unit}"
