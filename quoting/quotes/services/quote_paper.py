"""Fills the client's paper from a work-up. Nothing here reads a cost, a margin or a supplier."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from catalog.core.ground.refusal import Refused
from catalog.core.ground.units import format_area, format_length
from catalog.drawings.scales import Scale, scales
from catalog.drawings.svg import Picture
from catalog.services.firm_on_paper import firm_party, sheet_size
from jobs.core.measure.curve import FACES, Face
from jobs.core.measure.wall_words import height_words
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.drawings.faces.face_lean import face_lean_svg
from jobs.drawings.faces.faces import MAX_SCALE, face_svg
from jobs.drawings.plan.plan import plan_svg
from jobs.drawings.plan.plan_lean import plan_lean_svg
from jobs.drawings.worked_up import bands_of
from jobs.jobs.services.client_on_paper import party_of_job
from quoting.core.prices.payments import Deposit
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
from quoting.quotes.services.quote_paper_parts import allowance_sentences, notice_text, option_rows

OPTIONS_TICKED = "Options ticked in it are part of what is accepted; total, tax and instalments follow from them."
# Words, plan and both faces of a wall stand on one sheet.
PLAN_MM = 92.0
FACE_MM = 80.0


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
) -> QuotePaper:
    """photos: of each wall, by its key, that the client is shown. taking_back: sentences on the window."""
    quote = work_up.quote
    if quote is None or quote.priced is None:
        raise Refused("The job is not priced: fill in what the quote names as missing, then try again.")
    firm, job, texts = work_up.read.book.firm, work_up.read.job, quote.texts
    currency, priced = firm.currency, quote.priced
    return QuotePaper(
        number=head.number,
        revision=head.revision,
        job_title=job.title,
        issued_on=day_words(quote.quoted_on),
        valid_until=day_words(quote.valid_until),
        prepared_by=head.prepared_by,
        measured_by=head.measured_by,
        firm=firm_party(firm),
        client=party_of_job(job, job.client.email, job.client.phone),
        site_lines=tuple(line.strip() for line in job.site_address.splitlines() if line.strip()),
        walls=tuple(
            replace(_wall(work_up, wall), photos=(photos or {}).get(wall.spec.key, ())) for wall in work_up.walls
        ),
        trim=_trim(work_up, quote),
        price_lines=tuple(PriceLine(line.section, money_words(line.price, currency)) for line in priced.lines),
        net_price=money_words(priced.price, currency),
        tax_lines=(_tax_line(quote, currency),) if _is_taxed(quote) else (),
        total=money_words(priced.total, currency),
        price_notes=_price_notes(quote, currency),
        instalments=tuple(
            InstalmentLine(due.event, share_words(due.share), money_words(due.amount, currency))
            for due in priced.instalments
        ),
        dates=_dates(work_up, quote),
        inclusions=texts.inclusions,
        exclusions=texts.exclusions,
        assumptions=texts.assumptions,
        cautions=texts.cautions,
        access=texts.access,
        warranty=texts.warranty,
        conditions=texts.terms,
        options=option_rows(quote, currency),
        allowances=allowance_sentences(quote, currency),
        notice=notice_text(quote),
        taking_back=taking_back,
        acceptance=_acceptance(work_up, quote, head),
        sheet_size=sheet_size(firm),
    )


def _wall(work_up: WorkUp, wall: WallWorkUp) -> QuoteWall:
    assert work_up.quote is not None
    scope = next(entry for entry in work_up.quote.walls if entry.key == wall.spec.key)
    system = work_up.read.book.firm.display_units
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
    return QuoteWall(wall.spec.name, scope.sentences, tuple(figures), _drawings(wall, work_up))


def _drawings(wall: WallWorkUp, work_up: WorkUp) -> tuple[Drawing, ...]:
    system = work_up.read.book.firm.display_units
    title = f"{wall.spec.name}: plan"
    plan = plan_svg(wall.curve, title=title, system=system, width_mm=UPRIGHT_WIDTH_MM, max_height_mm=PLAN_MM)
    narrow = plan_lean_svg(wall.curve, title=title, system=system)
    return (Drawing(plan.svg, title, plan.scale, narrow=narrow.svg), *_faces(wall, work_up))


def _faces(wall: WallWorkUp, work_up: WorkUp) -> list[Drawing]:
    """Both faces at one scale, the coarser of the two they would have by themselves."""
    faces: list[Face] = [face for face in FACES if wall.spec.face(face).layers]
    pictures = [_face(wall, face, work_up, None) for face in faces]
    labels = {picture.scale for picture in pictures}
    if len(labels) > 1:
        known = scales(work_up.read.book.firm.display_units, MAX_SCALE)
        coarser = next((scale for scale in reversed(known) if scale.text in labels), None)
        pictures = [_face(wall, face, work_up, coarser) for face in faces]
    return [
        Drawing(picture.svg, _face_title(wall, face), picture.scale, narrow=_lean_face(wall, face, work_up))
        for face, picture in zip(faces, pictures, strict=True)
    ]


def _face(wall: WallWorkUp, face: Face, work_up: WorkUp, scale: Scale | None) -> Picture:
    return face_svg(
        wall.curve,
        face,
        title=_face_title(wall, face),
        system=work_up.read.book.firm.display_units,
        scale=scale,
        trims=bands_of(wall, face, work_up.read.book),
        width_mm=HALF_WIDTH_MM,
        max_height_mm=FACE_MM,
    )


def _lean_face(wall: WallWorkUp, face: Face, work_up: WorkUp) -> str:
    book = work_up.read.book
    trims, title = bands_of(wall, face, book), _face_title(wall, face)
    return face_lean_svg(wall.curve, face, title=title, system=book.firm.display_units, trims=trims).svg


def _face_title(wall: WallWorkUp, face: Face) -> str:
    return f"{wall.spec.name}: {face} face, rolled out flat"


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


def _price_notes(quote: QuoteSheet, currency: str) -> tuple[str, ...]:
    notes = []
    tax = quote.pricing.tax
    if not _is_taxed(quote):
        notes.append("No tax is charged on this price.")
    elif not quote.exempt_certificate:
        rounded = "once on the whole quotation" if tax.basis == "document" else "on each line"
        notes.append(f"Tax is rounded to the cent {rounded}.")
    if quote.deposit is not None:
        notes.append(_deposit_sentence(quote.deposit, currency, credited=bool(quote.pricing.instalments)))
    return tuple(notes)


def _deposit_sentence(deposit: Deposit, currency: str, *, credited: bool) -> str:
    """A deposit is a part of the total: the client is told so where instalments are asked for as well."""
    part = " It is part of the total and is taken off the instalments, from the first on." if credited else ""
    return f"Deposit on acceptance: {money_words(deposit.amount, currency)}.{part}"


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


def _acceptance(work_up: WorkUp, quote: QuoteSheet, head: QuoteHead) -> tuple[str, ...]:
    assert quote.priced is not None
    total = money_words(quote.priced.total, work_up.read.book.firm.currency)
    return (
        f"We accept quotation {head.number}, revision {head.revision}, for the work described in it at a total of "
        f"{total}.",
        *((OPTIONS_TICKED,) if quote.options else ()),
        f"To be signed by {day_words(quote.valid_until)}, the last day on which it can be accepted.",
    )
