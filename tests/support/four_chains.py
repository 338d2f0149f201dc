"""A job of four walls, each a chain of an arc, a straight, an arc back and a flat arc."""

from dataclasses import replace
from functools import cache

from jobs.core.measure.survey import ArcPiece, RadiusAngle, StraightPiece
from quoting.core.quotes.job_file import JobFile
from tests.documents import job_file

PIECES = (
    ArcPiece(RadiusAngle(2400.0, 0.9), "left"),
    StraightPiece(1200.0),
    ArcPiece(RadiusAngle(1900.0, 0.8), "right"),
    ArcPiece(RadiusAngle(6000.0, 0.3), "left"),
)


@cache
def four_chains() -> JobFile:
    read = job_file("merrow-finch-boutique")
    assert read.pricing is not None
    wall = replace(read.job.walls[0], pieces=PIECES)
    walls = tuple(replace(wall, key=f"wall-{number}", name=f"Wall {number}") for number in range(1, 5))
    costs = tuple(replace(cost, section="") for cost in read.pricing.costs)
    return replace(read, job=replace(read.job, walls=walls), pricing=replace(read.pricing, costs=costs))
