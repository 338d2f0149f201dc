"""Fills the client's paper from a work-up. Nothing here reads a cost, a margin or a supplier."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from math import ceil

from catalog.core.ground.refusal import Refused
from catalog.core.ground.units import format_area, format_length
from catalog.drawings.scales import Scale
from catalog.drawings.svg import Picture
from catalog.services.firm_on_paper import firm_party, sheet_size
from jobs.core.measure.curve import FACES, Face
from jobs.core.measure.wall_words import height_words
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.drawings.faces.face_lean import face_lean_svg
from jobs.drawings.faces.faces import face_svg
from jobs.drawings.plan.plan import plan_svg
from jobs.drawings.plan.plan_lean import plan_lean_svg
from jobs.drawings.plan.plan_names import piece_table
from jobs.drawings.standing_together import standing_together
from jobs.drawings.worked_up import bands_of, standing_wall
from jobs.jobs.services.client_on_paper import party_of_job
from quoting.core.quotes.quote_sheet import QuoteSheet
from quoting.core.quotes.work_up import WorkUp
from quoting.platform.formatting import day_words, money_words, share_words
from quoting.platform.papers.drawings import HALF_WIDTH_MM, UPRIGHT_WIDTH_MM, Drawing
from quoting.platform.papers.parts import (
    BendRow,
    DateLine,
    InstalmentLine,
    Measure,
    PriceLine,
    QuoteWall,
    TrimRow,
)
from quoting.platform.papers.photos import PaperPhoto
from quoting.quotes.papers.sheets import QuotePaper
from quoting.quotes.services.client_words import job_facts, sentences, wall_sentences
from quoting.quotes.services.quote_paper_parts import allowance_sentences, notice_text, option_rows

# Words, plan and both faces of a wall stand on one sheet: what is left of it the faces have.
PLAN_MM, FACE_MM, LEAST_FACE_MM = 108.0, 80.0, 62.0
SHEET_MM, HEADS_MM, LINE_MM, LETTERS_A_LINE, ROW_MM = 232.0, 36.0, 4.8, 84, 4.6
# The walls standing on the first sheet.
COVER_MM = 112.0


@dataclass(frozen=True)
class QuoteHead:
    number: str
    revision: str
    prepared_by: str
    measured_by: str = ""


def quote_paper(
    work_up: WorkUp,
    head: QuoteHead,
    photos: Mapping[str, tuple[PaperPhoto, ...]] | None = None,
    taking_back: tuple[str, ...] = (),
    *,
    cover: bool = True,
    sheets: bool = True,
) -> QuotePaper:
    """photos: of each wall, by its key, that the client is shown. taking_back: sentences on the window.

    cover, sheets: whether the walls are drawn on the first page, and each on its own.
    """
    quote = work_up.quote
    if quote is None or quote.priced is None:
        raise Refused("The job is not priced: fill in what the quote names as missing, then try again.")
    firm, job, texts = work_up.read.book.firm, work_up.read.job, quote.texts
    currency, priced, facts = firm.currency, quote.priced, job_facts(work_up)
    total, valid_until = money_words(priced.total, currency), day_words(quote.valid_until)
    accepted = {"total": total, "valid_until": valid_until, "options": quote.options, **vars(head)}
    return QuotePaper(
        number=head.number,
        revision=head.revision,
        job_title=job.title,
        issued_on=day_words(quote.quoted_on),
        valid_until=valid_until,
        prepared_by=head.prepared_by,
        measured_by=head.measured_by,
        firm=firm_party(firm),
        client=party_of_job(job, job.client.email, job.client.phone),
        site_lines=tuple(line.strip() for line in job.site_address.splitlines() if line.strip()),
        introduction=sentences("scope", facts),
        cover=_cover(work_up) if cover else (),
        on_site=_on_site(work_up),
        walls=tuple(
            replace(_wall(work_up, wall, sheets), photos=(photos or {}).get(wall.spec.key, ()))
            for wall in work_up.walls
        ),
        trim=_trim(work_up, quote),
        price_lines=tuple(PriceLine(line.section, money_words(line.price, currency)) for line in priced.lines),
        net_price=money_words(priced.price, currency),
        tax_lines=(_tax_line(quote, currency),) if _is_taxed(quote) else (),
        total=total,
        price_notes=sentences("price_notes", _price_facts(quote, currency)),
        instalments=tuple(
            InstalmentLine(due.event, share_words(due.share), money_words(due.amount, currency))
            for due in priced.instalments
        ),
        dates=_dates(work_up, quote),
        inclusions=texts.inclusions,
        exclusions=texts.exclusions,
        assumptions=(*texts.assumptions, *sentences("rests_on", facts)),
        cautions=texts.cautions,
        access=(*texts.access, *sentences("access", facts)),
        warranty=texts.warranty,
        conditions=texts.terms,
        options=option_rows(quote, currency),
        allowances=allowance_sentences(quote, currency),
        notice=notice_text(quote),
        taking_back=taking_back,
        acceptance=sentences("acceptance", accepted),
        sheet_size=sheet_size(firm),
    )


def _cover(work_up: WorkUp) -> tuple[Drawing, ...]:
    """Every wall standing, at one scale. One that cannot stand has its plan on its own sheet."""
    book = work_up.read.book
    pictures = standing_together(
        [(standing_wall(wall, book), wall.spec.name) for wall in work_up.walls],
        system=book.firm.display_units,
        width_mm=UPRIGHT_WIDTH_MM,
        max_height_mm=COVER_MM,
    )
    return tuple(Drawing(picture.svg, title) for title, picture in pictures)


def _on_site(work_up: WorkUp) -> str:
    first, last = work_up.read.job.start_on, work_up.plan.finish
    return " to ".join(day_words(day) for day in (first, last) if day) if first else ""


def _wall(work_up: WorkUp, wall: WallWorkUp, is_drawn: bool) -> QuoteWall:
    book = work_up.read.book
    system = book.firm.display_units
    figures = [Measure("Height", height_words(wall.curve, system))]
    for face in FACES:
        line = "left_finished" if face == "left" else "right_finished"
        figures.append(
            Measure(
                f"{face.capitalize()} face",
                format_length(wall.curve.length_mm(line), system),
                f"{format_area(wall.curve.net_area_mm2(line), system)} net of openings",
            )
        )
    pieces = tuple(piece_table(wall.curve, system)) if len(wall.curve.pieces) > 1 else ()
    scope = wall_sentences(wall, book)
    words_mm = LINE_MM * sum(ceil(len(sentence) / LETTERS_A_LINE) for sentence in scope) + ROW_MM * len(pieces)
    drawings = _drawings(wall, work_up, words_mm) if is_drawn else ()
    return QuoteWall(wall.spec.name, scope, tuple(figures), drawings, (), pieces)


def _drawings(wall: WallWorkUp, work_up: WorkUp, words_mm: float) -> tuple[Drawing, ...]:
    system = work_up.read.book.firm.display_units
    title = f"{wall.spec.name}: plan"
    room = {"system": system, "width_mm": UPRIGHT_WIDTH_MM, "max_height_mm": PLAN_MM}
    plan = plan_svg(wall.curve, title=title, **room)
    if SHEET_MM - HEADS_MM - words_mm - plan.height_mm < LEAST_FACE_MM:
        # Its lengths stand in the table and its scale under it, so that the faces find their room.
        plan = plan_svg(wall.curve, title=title, has_foot=False, **room)
    narrow = plan_lean_svg(wall.curve, title=title, system=system)
    left_mm = SHEET_MM - HEADS_MM - words_mm - plan.height_mm
    faces = _faces(wall, work_up, max(LEAST_FACE_MM, min(FACE_MM, left_mm)))
    return (Drawing(plan.svg, title, plan.scale, narrow=narrow.svg), *faces)


def _faces(wall: WallWorkUp, work_up: WorkUp, max_height_mm: float) -> list[Drawing]:
    """Both faces at one scale, the coarser of the two they would have by themselves."""
    book = work_up.read.book
    faces: list[Face] = [face for face in FACES if wall.spec.face(face).layers]
    titles = {face: f"{wall.spec.name}: {face} face, rolled out flat" for face in faces}
    shared = {face: {"title": titles[face], "trims": bands_of(wall, face, book)} for face in faces}

    def drawn(face: Face, scale: Scale | None) -> Picture:
        room = {"width_mm": HALF_WIDTH_MM, "max_height_mm": max_height_mm, "system": book.firm.display_units}
        return face_svg(wall.curve, face, scale=scale, has_foot=False, **shared[face], **room)

    pictures = [drawn(face, None) for face in faces]
    if len({picture.ratio for picture in pictures}) > 1:
        coarser = Scale(max(picture.ratio for picture in pictures), book.firm.display_units)
        pictures = [drawn(face, coarser) for face in faces]
    lean = [face_lean_svg(wall.curve, face, system=book.firm.display_units, **shared[face]) for face in faces]
    return [
        Drawing(picture.svg, titles[face], picture.scale, narrow=narrow.svg)
        for face, picture, narrow in zip(faces, pictures, lean, strict=True)
    ]


def _trim(work_up: WorkUp, quote: QuoteSheet) -> tuple[TrimRow, ...]:
    system = work_up.read.book.firm.display_units
    return tuple(
        TrimRow(
            row.wall,
            row.face,
            row.profile,
            row.curve,
            row.curve if row.radius_mm is None else format_length(row.radius_mm, system),
            format_length(row.length_mm, system),
            row.note,
            tuple(
                BendRow(bend.side, "–" if bend.radius_mm is None else format_length(bend.radius_mm, system))
                for bend in row.bends
            ),
        )
        for row in quote.trim
    )


def _is_taxed(quote: QuoteSheet) -> bool:
    """An exempt client is told so by name; where there is no tax at all there is no line of it."""
    return bool(quote.pricing.tax.rate or quote.exempt_certificate)


def _tax_line(quote: QuoteSheet, currency: str) -> PriceLine:
    assert quote.priced is not None
    tax = quote.pricing.tax
    if quote.exempt_certificate:
        return PriceLine(
            tax.name,
            money_words(quote.priced.tax, currency),
            f"exempt, certificate {quote.exempt_certificate}",
        )
    base = (
        "the price"
        if tax.applies_to == "price"
        else f"materials, {money_words(quote.priced.taxed, currency)} of the price"
    )
    return PriceLine(f"{tax.name} {share_words(tax.rate)}", money_words(quote.priced.tax, currency), f"on {base}")


def _price_facts(quote: QuoteSheet, currency: str) -> dict[str, object]:
    return {
        "taxed": _is_taxed(quote),
        "exempt": quote.exempt_certificate,
        "basis": quote.pricing.tax.basis,
        "deposit": money_words(quote.deposit.amount, currency) if quote.deposit else "",
        "credited": quote.pricing.instalments,
    }


def _dates(work_up: WorkUp, quote: QuoteSheet) -> tuple[DateLine, ...]:
    lines = [DateLine("This quotation can be accepted until", day_words(quote.valid_until))]
    if work_up.read.job.start_on:
        lines.append(DateLine("Work on site starts", day_words(work_up.read.job.start_on)))
    decide = _first_decision(work_up)
    if decide is not None:
        lines.append(
            DateLine(
                "Profiles and finishes decided by",
                day_words(decide),
                "so that made-to-order items arrive in time",
            )
        )
    if work_up.plan.finish:
        lines.append(DateLine("Work on site is done", day_words(work_up.plan.finish), "as planned today"))
    return tuple(lines)


def _first_decision(work_up: WorkUp) -> date | None:
    days = [need.dates.decide_by for need in work_up.needs if need.is_long_lead and need.dates is not None]
    return min(days, default=None)
