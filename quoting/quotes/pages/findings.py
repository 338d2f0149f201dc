"""What stands before sending, each with the page where it is put right."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.urls import NoReverseMatch, reverse

from catalog.models import Material
from jobs.core.measure.findings import Finding
from jobs.jobs.models import Job
from quoting.core.quotes.offering import GATE

EXTRAS = ("pricing/checklist",)
TERMS = ("pricing/notice", "pricing/options", "pricing/special-orders", "pricing/deposit")


@dataclass(frozen=True)
class Hindrance:
    sentence: str
    url: str
    where: str


def hindrances(job: Job, findings: Iterable[Finding], *, has_walls: bool = True) -> list[Hindrance]:
    findings = list(findings)
    walls = {wall.key: wall.name for wall in job.walls.all()}
    codes = {part for finding in findings for part in finding.key.split("/")}
    materials = {row.code: row for row in Material.objects.filter(code__in=codes)}
    first = [] if has_walls else [Hindrance("The job has no wall yet.", _url("wall_add", job.pk), "Measure the first")]
    return [*first, *(_hindrance(job, finding, walls, materials) for finding in findings)]


def _hindrance(job: Job, finding: Finding, walls: dict[str, str], materials: dict[str, Material]) -> Hindrance:
    parts = finding.key.split("/")
    if finding.key == GATE:
        return Hindrance(finding.sentence, _url("quote_approve", job.pk), "Look and approve")
    if parts[0] == "pricing":
        step, where = ("extras", "Answer them") if finding.key in EXTRAS else ("cost", "Cost and margin")
        if finding.key.startswith(TERMS):
            step, where = "terms", "Options and terms"
        return Hindrance(finding.sentence, f"{_url('quote', job.pk)}?step={step}", where)
    if parts[0] in walls:
        return Hindrance(finding.sentence, _url("wall", job.pk, parts[0]), walls[parts[0]])
    known = next((materials[part] for part in parts if part in materials), None)
    if known is not None:
        return Hindrance(finding.sentence, _url("material", known.pk), known.name)
    return Hindrance(finding.sentence, _url("job", job.pk), "The job")


def _url(name: str, *args: object) -> str:
    try:
        return reverse(name, args=args)
    except NoReverseMatch:
        # A wall's key may hold what no address can; the job's own page leads to it.
        return reverse("job", args=args[:1])
