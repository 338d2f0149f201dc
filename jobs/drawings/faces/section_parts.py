"""What a section through the wall shows, and where its heights lie on the paper."""

from __future__ import annotations

import math
from dataclasses import dataclass

from catalog.drawings.svg import DrawingInputError


@dataclass(frozen=True)
class SectionLayer:
    """A layer of board: what it is, and its thickness (mm, > 0)."""

    name: str
    thickness_mm: float


@dataclass(frozen=True)
class SectionTrim:
    """A trim cut through. thickness_mm, height_mm: > 0. foot_mm: above the floor (>= 0), None at the ceiling."""

    name: str
    thickness_mm: float
    height_mm: float
    foot_mm: float | None = 0.0


@dataclass(frozen=True)
class SectionCap:
    """A cap laid flat on a half wall. width_mm: across the wall; thickness_mm: upright; both > 0."""

    name: str
    width_mm: float
    thickness_mm: float


@dataclass(frozen=True)
class SectionParts:
    """The wall cut at one place. clear_height_mm: floor to ceiling there. left, right: layers from the framing
    outwards. stud_short_mm: by how much the stud stops short of the clear height (>= 0).
    is_half_wall: its top is free, with a cap or none, and no ceiling is drawn."""

    clear_height_mm: float
    stud_depth_mm: float
    left: tuple[SectionLayer, ...]
    right: tuple[SectionLayer, ...]
    stud_name: str = "Stud"
    track_name: str = "Track"
    track_leg_mm: float = 32.0
    stud_short_mm: float = 0.0
    left_trims: tuple[SectionTrim, ...] = ()
    right_trims: tuple[SectionTrim, ...] = ()
    insulated: bool = False
    is_half_wall: bool = False
    cap: SectionCap | None = None

    def __post_init__(self) -> None:
        lengths = [("clear height", self.clear_height_mm), ("stud depth", self.stud_depth_mm)]
        lengths += [("track leg", self.track_leg_mm)]
        lengths += [(layer.name, layer.thickness_mm) for layer in (*self.left, *self.right)]
        for trim in (*self.left_trims, *self.right_trims):
            lengths += [(f"{trim.name}, thickness", trim.thickness_mm), (f"{trim.name}, height", trim.height_mm)]
        if self.cap:
            lengths += [(f"{self.cap.name}, width", self.cap.width_mm)]
            lengths += [(f"{self.cap.name}, thickness", self.cap.thickness_mm)]
        for name, value in lengths:
            if not (math.isfinite(value) and value > 0):
                raise DrawingInputError(f"{name}: must be more than 0 mm; {value:g} was given")
        for trim in (*self.left_trims, *self.right_trims):
            foot = trim.foot_mm if trim.foot_mm is not None else self.clear_height_mm - trim.height_mm
            if not 0 <= foot <= self.clear_height_mm - trim.height_mm:
                raise DrawingInputError(
                    f"{trim.name}: {trim.height_mm:g} mm high with its foot at {foot:g} mm, it does not stand between "
                    f"the floor and a ceiling at {self.clear_height_mm:g} mm"
                )
        if not 0 <= self.stud_short_mm < self.track_leg_mm:
            raise DrawingInputError(
                f"stud: {self.stud_short_mm:g} mm short of the ceiling misses a track leg of {self.track_leg_mm:g} "
                "mm; it must be 0 to less than the leg"
            )

    @property
    def thickness_mm(self) -> float:
        """From finished face to finished face, trims left out."""
        return self.stud_depth_mm + sum(layer.thickness_mm for layer in (*self.left, *self.right))

    @property
    def trims(self) -> tuple[SectionTrim, ...]:
        return (*self.left_trims, *self.right_trims)


@dataclass(frozen=True)
class SectionCut:
    """The section on the paper: x from the middle of the stud, y up from the floor, the middle left out."""

    parts: SectionParts
    ratio: float
    low_mm: float
    high_mm: float

    @property
    def gap(self) -> float:
        return 5.0 if self.is_broken else 0.0

    @property
    def is_broken(self) -> bool:
        return self.low_mm + self.high_mm < self.parts.clear_height_mm

    @property
    def top(self) -> float:
        shown = self.low_mm + self.high_mm if self.is_broken else self.parts.clear_height_mm
        return -shown / self.ratio - self.gap

    def y(self, height_mm: float) -> float:
        """Paper height of a place measured from the floor, for places below the break or above it."""
        if not self.is_broken or height_mm <= self.low_mm + 1e-6:
            return -height_mm / self.ratio
        return self.top + (self.parts.clear_height_mm - height_mm) / self.ratio

    def runs(self, foot_mm: float, head_mm: float) -> list[tuple[float, float]]:
        """Parts of a height that are drawn, as heights."""
        if not self.is_broken:
            return [(foot_mm, head_mm)]
        upper = self.parts.clear_height_mm - self.high_mm
        runs = [(foot_mm, min(head_mm, self.low_mm)), (max(foot_mm, upper + 1e-5), head_mm)]
        return [(a, b) for a, b in runs if b > a]
