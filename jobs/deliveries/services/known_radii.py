"""Which other line of its wall has a radius that was confirmed: most often the framing's, taken for the face's."""

from datetime import date

from catalog.services.book import book_of
from jobs.core.ordering.confirmation import LINE_WORDS, Confirmed, line_of_radius, tolerances_of
from jobs.core.ordering.order_lines import StatedRadius
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.deliveries.services.comparing_orders import asked_of
from jobs.orders.models import OrderLine
from jobs.work_up.services.job_work_up import work_of


def radius_lines_of(line: OrderLine, confirmed: Confirmed, today: date) -> list[str]:
    """Of each confirmed radius, empty where it is as ordered or no line has it; worked up as the walls stand now."""
    statement = asked_of(line, None).statement
    if not confirmed.radii_mm or not statement.radii:
        return []
    book = book_of()
    within_mm = tolerances_of(book.standards).radius_mm
    runs = [(run.wall, radius) for run in statement.runs for radius in run.radii]
    pairs = list(zip(runs, confirmed.radii_mm, strict=False))
    if all(abs(radius_asked.radius_mm - radius) <= within_mm for (_, radius_asked), radius in pairs):
        return []
    result = work_of(line.job, book, today).done
    walls = {wall.spec.name: wall for wall in result.walls} if result else {}
    return [_line(walls.get(wall), radius_asked, radius, within_mm) for (wall, radius_asked), radius in pairs]


def _line(wall: WallWorkUp | None, ordered: StatedRadius, radius_mm: float, within_mm: float) -> str:
    if wall is None or abs(ordered.radius_mm - radius_mm) <= within_mm or ordered.piece > len(wall.curve.pieces):
        return ""
    offsets = {line: wall.curve.offset_mm(line) for line in LINE_WORDS}
    return line_of_radius(wall.curve.pieces[ordered.piece - 1], offsets, radius_mm, within_mm) or ""
