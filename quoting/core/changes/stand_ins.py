"""What may take a material's place on the walls: of the same use, and bending as far as they ask of it there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from catalog.core.ground.document_reader import DocumentError
from catalog.core.materials.specs import Material
from jobs.core.measure.bending import Bend, BendCheck, TrackCheck, check_layers, check_track
from jobs.core.measure.curve import curve_of
from jobs.core.measure.survey import SurveyError
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.takeoff.wall_work_up import survey_of
from jobs.core.trim.trim import TrimPlan, plan_trims
from jobs.core.trim.trim_bend import card_findings
from quoting.core.quotes.job_file import JobFile
from quoting.core.quotes.rebuilding import swapped

Why = Literal["fits", "other_use", "other_form", "too_tight", "not_known"]
BAD = frozenset({"fails", "not_permitted", "gap"})


@dataclass(frozen=True)
class StandIn:
    """A material held against the places of another.

    why: it fits; or is for another use; or is not had in the grade asked for; or does not bend so far; or a
    figure that would say so is missing. sentence:
    why it does not fit, empty where it does. tightest_mm: the tightest radius asked of it, least_radius_mm: its limit
    there; both None where nothing is bent.
    """

    material: Material
    why: Why
    sentence: str = ""
    tightest_mm: float | None = None
    least_radius_mm: float | None = None


def stand_ins(read: JobFile, material: str) -> tuple[StandIn, ...]:
    """Every material of the same kind held against the places of one.

    read: the job. material: code of a material its walls name. Returns them in the order of the catalog. Raises
    DocumentError at "material" for one that is not there or that no wall names. Source: own rule; the limits are the
    makers'.

    >>> from decimal import Decimal
    >>> from catalog.core.materials.catalog_data import Catalog
    >>> from catalog.core.materials.specs import Firm
    >>> from catalog.core.materials.standards import starter_standards
    >>> from jobs.core.schedule.job_spec import Client, JobSpec
    >>> board = Material("GB", "Gypsum board", "board", "stocked", "sqft", "sheet", Decimal(0))
    >>> book = Catalog(Firm("F", "Etc/UTC", "EUR", "metric", 3, 5), starter_standards(), {}, {"GB": board})
    >>> stand_ins(JobFile(book, JobSpec("J", "Job", Client("C"))), "GB")
    ()
    """
    own = read.book.materials.get(material)
    if own is None:
        raise DocumentError.at("material", f'"{material}" is not a material in the catalog; choose one that is')
    alike = (
        entry for entry in read.book.materials.values() if (entry.kind, entry.own_kind) == (own.kind, own.own_kind)
    )
    return tuple(stand_in(read, own, entry) for entry in alike if entry.code != material)


def stand_in(read: JobFile, own: Material, other: Material) -> StandIn:
    """One material held against the places of another.

    read: the job. own: a material its walls name. other: of the same kind. Raises DocumentError as
    `rebuilding.swapped`. Source: own rule: decisions taken about what stood there before do not count.
    """
    unfit = _use(read, own, other)
    if unfit is not None:
        return unfit
    rebuilt = swapped(read, own.code, other.code)
    own_checks: list[Bend] = []
    for wall in rebuilt.read.job.walls:
        if wall.key not in rebuilt.walls:
            continue
        try:
            (was, _), (now, plans) = _worked(read, read.job.wall(wall.key)), _worked(read, wall)
        except SurveyError as error:
            return StandIn(other, "not_known", f"{wall.name}: {error.reason}")
        for plan in (entry for entry in plans if entry.run.material == other.code):
            for finding in card_findings(plan.run, plan.key, other):
                return StandIn(other, "other_form", finding.sentence)
            for finding in plan.findings:
                if finding.weight == "gap":
                    return StandIn(other, "not_known", finding.sentence)
        known = {entry.key for entry in was if entry.verdict in (*BAD, "overridden")}
        mine = [entry for entry in now if _code(entry, wall) == other.code]
        for each in now:
            if each.verdict in BAD and (each in mine or each.key not in known):
                return StandIn(other, "not_known" if each.verdict == "gap" else "too_tight", each.sentence)
        own_checks += mine
    bent = [check for check in own_checks if check.radius_mm]
    tightest = min(bent, key=lambda entry: entry.radius_mm, default=None)
    if tightest is None:
        return StandIn(other, "fits")
    return StandIn(other, "fits", "", tightest.radius_mm, tightest.least_radius_mm)


def _use(read: JobFile, own: Material, other: Material) -> StandIn | None:
    """Why a profile is for another use; None for one used alike or of the same shape, and for all that is no trim."""
    if own.kind != "trim" or (_shape(own) and _shape(own) == _shape(other)):
        return None
    positions = {run.position for wall in read.job.walls for run in wall.trims if run.material == own.code}
    used = set(other.profile.positions) if other.profile else set()
    if not used:
        return StandIn(other, "not_known", f"{other.name} does not say where it is used: fill in its card.")
    if positions <= used:
        return None
    return StandIn(other, "other_use", f"{other.name} is used as {', '.join(sorted(used))}.")


def _shape(material: Material) -> str:
    return material.profile.shape.strip().casefold() if material.profile else ""


def _worked(read: JobFile, wall: WallSpec) -> tuple[list[Bend], tuple[TrimPlan, ...]]:
    materials, system = read.book.materials, read.book.firm.display_units
    curve = curve_of(survey_of(wall, materials))
    plans = plan_trims(curve, wall, materials, system)
    arcs = (arc for plan in plans for arc in plan.arcs)
    checks: list[Bend] = [
        *check_layers(curve, wall, materials, system),
        *check_track(curve, wall, materials, system),
        *arcs,
    ]
    return checks, plans


def _code(check: Bend, wall: WallSpec) -> str:
    if isinstance(check, BendCheck):
        return check.board
    if isinstance(check, TrackCheck):
        return check.track
    number = int(check.key.split("/trim-")[1].split("/")[0])
    return wall.trims[number - 1].material
