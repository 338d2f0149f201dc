"""The walls of a job side by side: what each is, how it is built, what on it is open."""

from collections.abc import Iterator

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import mark_safe

from catalog.core.ground.units import System, format_length
from catalog.pages.firm_first import firm_first
from catalog.services.book import book_of
from jobs.core.results.job_facts import WallFacts
from jobs.jobs.pages.requests import job_or_404
from jobs.needs.services.stored_jobs import stored_job
from jobs.walls.pages.form.form_lines import line_words
from jobs.walls.pages.form.typed_wall import TypedWall, typed_of
from jobs.walls.pages.form.wall_form import offered_materials
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm


@firm_first
def walls_compared(request: HttpRequest, job_id: int) -> HttpResponse:
    job, system = job_or_404(job_id), book_of().firm.display_units
    facts = {wall.key: wall for wall in stored_job(job, day_at_the_firm(clock.now())).facts.walls}
    offered = offered_materials()
    walls = []
    for spec in job.to_core().walls:
        typed, fact = typed_of(spec, system), facts.get(spec.key)
        rows = [*(_figures(fact, system) if fact else ()), *_built(typed, line_words(typed, offered))]
        picture = mark_safe(fact.pictures.get("thumbnail", "")) if fact else ""
        count = fact.open_count if fact else 0
        walls.append({"key": spec.key, "name": spec.name, "picture": picture, "rows": rows, "open": count})
    return render(request, "walls/compared.html", {"job": job, "walls": walls})


def _figures(wall: WallFacts, system: System) -> Iterator[tuple[str, str]]:
    """Each figure of a wall with its label."""

    def shown(mm: float) -> str:
        return format_length(mm, system)

    radii = [shown(arc.radii_mm["centre"]) for arc in wall.arcs]
    yield "Radius", ", ".join(radii) or "straight"
    yield "Left face", shown(wall.lengths_mm["left_finished"])
    yield "Right face", shown(wall.lengths_mm["right_finished"])
    yield "Height", shown(wall.height_mm)
    yield "Studs", str(wall.studs or "not set out")


def _built(typed: TypedWall, words: dict[str, str]) -> Iterator[tuple[str, str]]:
    labels = {"boards": "Boards", "studs": "Stud", "openings": "Openings", "trims": "Trim", "ceiling": "Top"}
    yield from ((label, words[key]) for key, label in labels.items())
