"""What pages say of a job and its walls without working them up: plain values, kept as rows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from jobs.core.measure.findings import Finding
from jobs.core.measure.survey import LINES, Line
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.takeoff.wall_work_up import WallWorkUp

TO_CLEAR = ("gap", "decide")


@dataclass(frozen=True)
class ArcFacts:
    """One bent piece of a wall: its number from 1, and by line radius and length in mm."""

    number: int
    turn: str
    radii_mm: Mapping[Line, float]
    lengths_mm: Mapping[Line, float]


@dataclass(frozen=True)
class WallFacts:
    """One wall. lengths_mm: by line. height_mm: the greatest. studs: None while the framing is not whole.

    findings: what must be read of it. pictures: small drawings as SVG, by name.
    """

    key: str
    name: str
    lengths_mm: Mapping[Line, float]
    height_mm: float
    studs: int | None
    arcs: tuple[ArcFacts, ...]
    findings: tuple[Finding, ...]
    pictures: Mapping[str, str]

    @property
    def open_count(self) -> int:
        """What is missing or to be decided."""
        return sum(1 for finding in self.findings if finding.weight in TO_CLEAR)


@dataclass(frozen=True)
class JobFacts:
    """A job. desk, site: what must be read by whoever sees money, and by those who do not; what is said of days to
    order by stands with the needs. trouble: why its walls cannot be worked out; it then has no walls here.
    """

    walls: tuple[WallFacts, ...] = ()
    desk: tuple[Finding, ...] = ()
    site: tuple[Finding, ...] = ()
    trouble: str = ""

    def findings(self, show_money: bool) -> tuple[Finding, ...]:
        return self.desk if show_money else self.site

    @property
    def open_count(self) -> int:
        """What of all walls is missing or to be decided."""
        return sum(wall.open_count for wall in self.walls)


def wall_facts(wall: WallWorkUp, pictures: Mapping[str, str]) -> WallFacts:
    """wall: worked up. pictures: its small drawings as SVG, by name. Returns what pages say of it. Raises nothing."""
    curve = wall.curve
    return WallFacts(
        wall.spec.key,
        wall.spec.name,
        {line: curve.length_mm(line) for line in LINES},
        curve.greatest_height_mm,
        wall.stud_count if wall.framing.is_complete else None,
        tuple(
            ArcFacts(
                piece.index + 1,
                "left" if piece.turn > 0 else "right",
                {line: piece.radius_at(curve.offset_mm(line)) for line in LINES},
                {line: piece.length_at(curve.offset_mm(line)) for line in LINES},
            )
            for piece in curve.pieces
            if piece.is_arc
        ),
        wall.findings,
        pictures,
    )


def job_facts(
    work_up: JobWorkUp, pictures: Mapping[str, Mapping[str, str]], desk: tuple[Finding, ...], site: tuple[Finding, ...]
) -> JobFacts:
    """work_up: the job. pictures: by wall, small drawings by name. desk, site: what must be read, by reader."""
    return JobFacts(tuple(wall_facts(wall, pictures.get(wall.spec.key, {})) for wall in work_up.walls), desk, site)
