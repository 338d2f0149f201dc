"""One of every kind of picture, for what must hold of all of them."""

from datetime import date, timedelta

from catalog.drawings.svg import Picture
from jobs.drawings.charts.activities_chart import ActivityRow, WaitSpan, activities_chart_svg
from jobs.drawings.charts.dates_chart import ChartRow, dates_chart_svg
from jobs.drawings.faces.face_lean import face_lean_svg
from jobs.drawings.faces.face_view import TrimBand
from jobs.drawings.faces.faces import face_svg
from jobs.drawings.faces.section import section_svg
from jobs.drawings.faces.section_lean import section_lean_svg
from jobs.drawings.faces.section_parts import SectionLayer, SectionParts, SectionTrim
from jobs.drawings.plan.plan import plan_svg
from jobs.drawings.plan.plan_lean import plan_lean_svg
from jobs.drawings.standing import Cap, StandingWall, standing_svg
from tests.jobs.drawings.walls import INCH, WALLS, boards_of, framing_of

BASE = TrimBand("Base 5-1/4 in", 5.25 * INCH)
REVEAL = TrimBand("Shadow reveal", 20.0, None)
BOARD = SectionLayer("Gypsum board", 6.35)


def section_parts(**changes) -> SectionParts:
    parts = {
        "clear_height_mm": 108 * INCH,
        "stud_depth_mm": 3.625 * INCH,
        "left": (BOARD, BOARD),
        "right": (BOARD, BOARD),
        "stud_short_mm": 6.35,
        "left_trims": (SectionTrim("Bendable base", 14.3, 5.25 * INCH),),
        "right_trims": (SectionTrim("Bendable base", 14.3, 5.25 * INCH), SectionTrim("Reveal", 10, 20, None)),
        "insulated": True,
    }
    return SectionParts(**(parts | changes))


def chart_row(label: str = "Base", start: date = date(2026, 12, 3), late: bool = False) -> ChartRow:
    """Days of the dental base: decide 3 Dec, order 10 Dec, ship 14 Jan, dock 20 Jan, need 25 Jan."""
    days = [start + timedelta(days=after) for after in (0, 7, 42, 48, 53)]
    return ChartRow(label, *days, in_hand="4 working days late" if late else "7 working days in hand", late=late)


def activities_chart() -> Picture:
    """Both shapes, critical and not, a wait that is drawn, closed days and a promised day."""
    days = [date(2027, 1, 4) + timedelta(days=number) for number in range(30)]
    rows = [
        ActivityRow("Setting out", days[0], days[0], days[2], "may slip 2 working days"),
        ActivityRow("Word of the landlord", days[3], days[3], days[4], "may slip 1 working day", shape="moment"),
        ActivityRow("Hanging board", days[4], days[8], days[8], "critical", True),
        ActivityRow("Tape and first coat", days[14], days[14], days[14], "critical", True),
    ]
    return activities_chart_svg(
        rows,
        today=days[1],
        title="Activities",
        waits=[WaitSpan(3, days[8], days[14], "96 h curing")],
        closed=[(days[10], days[11])],
        promised_on=days[20],
    )


def all_pictures() -> dict[str, Picture]:
    pictures = {}
    for name, wall in WALLS.items():
        curve = wall()
        framing = framing_of(curve, 16.0 if name == "sixty_feet" else 8.0)
        system = "metric" if name == "kinked" else "imperial"
        layers = (6.35, 6.35)
        pictures[f"plan {name}"] = plan_svg(
            curve, title=name, system=system, framing=framing, left_layers_mm=layers, right_layers_mm=layers
        )
        for face in ("left", "right"):
            boards = boards_of(curve, face, framing)
            pictures[f"{face} {name}"] = face_svg(
                curve, face, title=name, system=system, framing=framing, boards=boards, trims=(BASE, REVEAL)
            )
        pictures[f"narrow plan {name}"] = plan_lean_svg(curve, title=name, system=system, framing=framing)
        for face in ("left", "right"):
            boards = boards_of(curve, face, framing)
            lean = face_lean_svg(curve, face, title=name, system=system, boards=boards, trims=(BASE, REVEAL))
            pictures[f"narrow {face} {name}"] = lean
        stands = StandingWall(curve, ((BASE,), (BASE,)))
        pictures[f"standing {name}"] = standing_svg(stands, title=name, system=system)
    half = StandingWall(WALLS["boutique"](), cap=Cap(200.0, 30.0))
    pictures["standing half wall"] = standing_svg(half, title="Half wall")
    pictures["section"] = section_svg(section_parts(), title="Section")
    pictures["metric section"] = section_svg(section_parts(right=(), right_trims=()), title="S", system="metric")
    pictures["narrow section"] = section_lean_svg(section_parts(), title="Section")
    for count in (1, 3, 60):
        rows = [chart_row(f"Item {i}", date(2026, 12, 3) + timedelta(days=4 * i), i < 2) for i in range(count)]
        closed = ((date(2026, 12, 21), date(2027, 1, 1)),)
        pictures[f"dates {count}"] = dates_chart_svg(rows, today=date(2026, 12, 12), title="Order dates", closed=closed)
    pictures["activities"] = activities_chart()
    return pictures
