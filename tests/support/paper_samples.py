"""Papers of two invented firms' jobs (worked examples: dental reception screen, boutique lobby)."""

import math
from dataclasses import replace

from jobs.dates.papers.order_dates import OrderDatesPaper
from quoting.platform.papers.drawings import Drawing
from quoting.platform.papers.parts import (
    DateLine,
    InstalmentLine,
    Measure,
    OrderDateRow,
    Party,
    PriceLine,
    QuoteWall,
    TrimRow,
)
from quoting.quotes.papers.sheets import QuotePaper

INCH_MM = 25.4
FIRM = Party(
    "Penmarrow Interiors",
    ("14 Sawyers Yard, Tollbridge", "Telephone 555 0142", "office@penmarrow.example"),
)


def svg(width_mm: float, height_mm: float, title: str, body: str) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width_mm:g}mm" height="{height_mm:g}mm" '
        f'viewBox="0 0 {width_mm:g} {height_mm:g}"><title>{title}</title>{body}</svg>'
    )


def text(x: float, y: float, words: str, css: str = "dim-text at-middle", extra: str = "") -> str:
    return f'<text x="{x:.2f}" y="{y:.2f}" class="{css}"{extra}>{words}</text>'


def line(x1: float, y1: float, x2: float, y2: float, css: str) -> str:
    return f'<line x1="{x1:.2f}" y1="{y1:.2f}" x2="{x2:.2f}" y2="{y2:.2f}" class="{css}"/>'


def dimension(x1: float, x2: float, y: float, words: str) -> str:
    ticks = "".join(line(x - 0.9, y + 0.9, x + 0.9, y - 0.9, "dim-tick") for x in (x1, x2))
    extensions = "".join(line(x, y - 5, x, y + 1.2, "dim") for x in (x1, x2))
    return line(x1, y, x2, y, "dim") + ticks + extensions + text((x1 + x2) / 2, y - 1.1, words)


def dental_plan() -> Drawing:
    """Convex framing line: chord 168 in, rise 30 in, so R 132.600 in; drawn at 1:30."""
    scale, middle, top = INCH_MM / 30, 87.0, 9.0
    centre_y = top + 132.6 * scale
    half = math.radians(78.615 / 2)

    def arc(radius_in: float, css: str) -> str:
        radius = radius_in * scale
        dx, dy = radius * math.sin(half), radius * math.cos(half)
        return (
            f'<path class="{css}" d="M {middle - dx:.3f} {centre_y - dy:.3f} A {radius:.3f} {radius:.3f} '
            f'0 0 1 {middle + dx:.3f} {centre_y - dy:.3f}"/>'
        )

    radii = {"ink-heavy": (133.1, 128.475), "thin": (132.6, 128.975)}
    body = "".join(arc(radius, css) for css, pair in radii.items() for radius in pair)
    for station in range(24):
        angle = -half + 2 * half * station / 23
        near, far = 128.975 * scale, 132.6 * scale
        body += line(
            middle + near * math.sin(angle), centre_y - near * math.cos(angle),
            middle + far * math.sin(angle), centre_y - far * math.cos(angle), "thin",
        )  # fmt: skip
    y_end = centre_y - 133.1 * scale * math.cos(half)
    x_end = 133.1 * scale * math.sin(half)
    body += line(middle, top - 3, middle, y_end - 3, "centre")
    body += dimension(middle - x_end, middle + x_end, y_end + 11, "Chord 14′ 0″")
    body += text(middle + 3, top + 14, "R 11′ 0-5/8″", "label")
    body += text(middle, top - 5, "Waiting room (convex face)", "label at-middle")
    body += text(middle, y_end + 4, "Reception desk (concave face)", "small-text at-middle")
    return Drawing(
        svg(174, 50, "Plan of the reception screen: one arc, chord 14 feet, rise 2 feet 6 inches", body),
        "Plan",
        "1:30 on this sheet",
    )


def dental_face() -> Drawing:
    scale, left, top = INCH_MM / 30, 9.0, 2.0
    width, height = 182.626 * scale, 108 * scale
    opening_left, opening_width, opening_height = left + 60 * scale, 38.646 * scale, 83 * scale
    floor = top + height
    body = f'<rect x="{left}" y="{top}" width="{width:.2f}" height="{height:.2f}" class="ink"/>'
    for course in (1,):
        body += line(left, top + 48 * course * scale, left + width, top + 48 * course * scale, "joint")
    for joint in (48, 144):
        body += line(left + joint * scale, top, left + joint * scale, top + 48 * scale, "joint")
    body += line(left + 36 * scale, top + 48 * scale, left + 36 * scale, floor, "joint")
    body += (
        f'<rect x="{opening_left:.2f}" y="{floor - opening_height:.2f}" width="{opening_width:.2f}" '
        f'height="{opening_height:.2f}" class="opening-edge"/>'
    )
    body += line(left, floor - 5.25 * scale, opening_left, floor - 5.25 * scale, "thin")
    body += line(opening_left + opening_width, floor - 5.25 * scale, left + width, floor - 5.25 * scale, "thin")
    body += text(opening_left + opening_width / 2, floor - 32, "Opening", "label at-middle")
    body += text(opening_left + opening_width / 2, floor - 27.5, "38-1/2 × 83 in", "dim-text at-middle")
    body += dimension(left, left + width, floor + 9, "15′ 2-5/8″ along the finished face")
    return Drawing(
        svg(174, 106, "Developed convex face of the reception screen, with the opening at its place", body),
        "Convex face, developed",
        "1:30 on this sheet",
    )


def dental_quote(**changes: object) -> QuotePaper:
    paper = QuotePaper(
        number="Q-0117",
        revision="B",
        job_title="Larkmoor Dental, reception screen",
        issued_on="12 November 2026",
        valid_until="12 December 2026",
        prepared_by="M. Tarrant",
        measured_by="J. Okafor-Lindt, 9 November 2026",
        firm=FIRM,
        client=Party("Larkmoor Dental", ("Suite 3, Quarry Court", "Larkmoor")),
        site_lines=("Ground floor, Quarry Court", "Larkmoor"),
        introduction=(
            "We will frame, board, finish and trim one curved partition between the waiting room and the "
            "reception desk, ready for decoration by others.",
        ),
        walls=(
            QuoteWall(
                name="Reception screen",
                scope=(
                    "One arc, 9′ 0″ high from floor to ceiling, framed in 3-5/8″ steel studs in curved "
                    "track, with two layers of 1/4″ gypsum board on each face.",
                    "One doorway 38-1/2″ by 83″ in a flat frame. Level 5 finish on the waiting-room face, "
                    "level 4 behind the desk.",
                ),
                figures=(
                    Measure("Radius of the convex framing", "11′ 0-5/8″ (132.60 in)"),
                    Measure("Length, convex finished face", "15′ 2-5/8″ (182.63 in)"),
                    Measure("Length, concave finished face", "14′ 8-1/4″ (176.28 in)"),
                    Measure(
                        "Finished area, convex and concave",
                        "114.70 and 109.94 sq ft",
                        "The doorway has been taken out of both.",
                    ),
                ),
                drawings=(dental_plan(), dental_face()),
            ),
        ),
        trim=(
            TrimRow(
                "Reception screen",
                "Convex face",
                "Base 5-1/4″, paint grade",
                "Convex",
                "133.10 in",
                "143.99 in",
            ),
            TrimRow(
                "Reception screen",
                "Concave face",
                "Base 5-1/4″, paint grade",
                "Concave",
                "128.48 in",
                "137.63 in",
                "Made to the curve; confirmed by a field check before it is made.",
            ),
        ),
        price_lines=(
            PriceLine("Reception screen", "12,210.00", "Framing, board and finishing, both faces."),
            PriceLine("Trim to the curve", "1,631.94", "Base on both faces, fixed and filled."),
        ),
        net_price="13,841.94",
        tax_lines=(PriceLine("Tax at 13 %", "1,799.45", "On the price of this quotation."),),
        total="$15,641.39",
        price_notes=("All amounts are in dollars.",),
        instalments=(
            InstalmentLine("On acceptance", "10 %", "1,564.14"),
            InstalmentLine("When the board is hung", "40 %", "6,256.56"),
            InstalmentLine("When finishing is complete", "40 %", "6,256.55"),
            InstalmentLine("On hand-over", "10 %", "1,564.14"),
        ),
        dates=(
            DateLine("Your decision on the trim profile", "Thu 3 Dec 2026", "Later decisions move the hand-over."),
            DateLine("Work begins on site", "Mon 4 Jan 2027"),
            DateLine("Trim is fixed", "Mon 25 Jan 2027"),
        ),
        inclusions=(
            "Protection of the floor along the line of the wall.",
            "Removal of our own waste.",
            "One visit to make good after other trades.",
        ),
        exclusions=("Painting.", "Electrical work.", "Door, frame and hardware."),
        assumptions=(
            "The ceiling is level within 1/4″ over the length of the wall.",
            "The floor is clear on the day work begins.",
        ),
        cautions=(
            "Sanding makes fine silica dust; the work area is closed off and must not be entered while we sand.",
            "Whether this wall must be fire-rated is decided by local code and a licensed professional, "
            "not by this quotation.",
        ),
        acceptance=(
            "By signing, both parties accept this quotation, revision B, with its drawings, price, "
            "instalments and dates. An earlier revision is no longer valid.",
        ),
    )
    return replace(paper, **changes)


def boutique_time_line() -> Drawing:
    """March to May 2027, one calendar day to 2.75 mm."""
    left, top, day, rows = 46.0, 9.0, 2.75, ("Shadow reveal, ceiling", "Base, both faces")
    body = ""
    for week, name in enumerate(("1 Mar", "15 Mar", "29 Mar", "12 Apr", "26 Apr")):
        x = left + week * 14 * day
        body += line(x, top - 3, x, top + 34, "grid") + text(x + 1, top - 4.5, name, "small-text")
    x = left + 35 * day
    body += f'<rect x="{x:.2f}" y="{top - 3}" width="{5 * day:.2f}" height="37" class="closed-days"/>'
    body += text(x + 0.8, top + 33, "Maker closed", "small-text")
    for index, (name, order, ship, dock, need) in enumerate(
        ((rows[0], 7, 43, 46, 50), (rows[1], 36, 57, 60, 65)),
    ):
        y = top + 4 + index * 13
        body += text(left - 3, y + 4, name, "label at-end")
        for start, end, css in ((order, ship, "bar"), (ship, dock, "bar-strong"), (dock, need, "bar")):
            body += (
                f'<rect x="{left + start * day:.2f}" y="{y:.2f}" width="{(end - start) * day:.2f}" '
                f'height="6" class="{css}"/>'
            )
        body += text(left + order * day - 1, y + 4, "order", "dim-text at-end")
        body += text(left + need * day + 1, y + 4, "needed", "dim-text")
    body += line(left + 3 * day, top - 3, left + 3 * day, top + 34, "today")
    body += text(left + 3 * day + 1, top + 33, "today, 4 Mar", "red-text")
    return Drawing(
        svg(243, 44, "Time line of the two ordered items from 1 March to 5 May 2027", body),
        "From order to need, by day",
        lying=True,
    )


def boutique_order_dates(**changes: object) -> OrderDatesPaper:
    paper = OrderDatesPaper(
        job_title="Merrow & Finch Boutique, lobby S-curve",
        as_of="Thu 4 Mar 2027",
        prepared_by="S. Amberley",
        firm=FIRM,
        rows=(
            OrderDateRow(
                item="Base 7 in left, 4 in right",
                supplier="Hollin Trim Works",
                days_in_hand=22,
                days_in_hand_text="22",
                standing="ahead",
                decide_by="Tue 30 Mar 2027",
                order_by="Tue 6 Apr 2027",
                ship="Tue 27 Apr 2027",
                dock="Fri 30 Apr 2027",
                need_by="Wed 5 May 2027",
            ),
            OrderDateRow(
                item="Shadow reveal at the ceiling",
                supplier="Castlebar Reveal Makers",
                days_in_hand=2,
                days_in_hand_text="2",
                standing="decide now: decide-by was 3 working days ago",
                decide_by="Mon 1 Mar 2027",
                order_by="Mon 8 Mar 2027",
                ship="Tue 13 Apr 2027",
                dock="Fri 16 Apr 2027",
                need_by="Tue 20 Apr 2027",
                needs_decision=True,
                note="Final sale. Needed when the boards go up.",
            ),
        ),
        gaps=("Cap rail: no lead time is on record for Hollin Trim Works; ask and enter it.",),
        time_line=boutique_time_line(),
        notes=(
            "Days are working days of our own calendar; the supplier's production and transit run on the supplier's.",
            "Order by is the last day on which an order placed leaves the cushion days untouched.",
        ),
    )
    return replace(paper, **changes)
