"""Scales a drawing may be to, their names, and the bar that shows one."""

from __future__ import annotations

from dataclasses import dataclass

from catalog.core.ground.units import System
from catalog.drawings.svg import DrawingInputError

# ISO 5455 (1:2, 1:5, 1:10 and their tenfolds), and 1:25, common practice in building.
METRIC = (2, 5, 10, 20, 25, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000, 50_000, 100_000)
# Inches of paper to a foot of wall as a scale rule has them: common practice.
IMPERIAL = {
    4: "3", 8: "1-1/2", 12: "1", 16: "3/4", 24: "1/2", 32: "3/8", 48: "1/4", 64: "3/16", 96: "1/8",
    128: "3/32", 192: "1/16",
}  # fmt: skip
# Below the smallest of the rule, engineers' scales: whole feet to an inch.
ENGINEERS_FEET = (20, 30, 40, 50, 100, 200, 500, 1000, 2000, 5000)


@dataclass(frozen=True)
class Scale:
    """1 mm of paper is `ratio` mm of wall."""

    ratio: float
    system: System

    def __post_init__(self) -> None:
        if not 0.1 <= self.ratio <= 1e6:
            raise DrawingInputError(f"scale: one to {self.ratio:g} cannot be drawn; give 0.1 to 1,000,000")

    @property
    def text(self) -> str:
        """The scale in words.

        >>> Scale(24, "imperial").text, Scale(20, "metric").text, Scale(240, "imperial").text
        ('1/2" = 1\\' 0" (1:24)', '1:20', '1" = 20\\' 0" (1:240)')
        """
        if self.system == "imperial" and self.ratio in IMPERIAL:
            return f'{IMPERIAL[int(self.ratio)]}" = 1\' 0" (1:{self.ratio:g})'
        if self.system == "imperial" and self.ratio % 12 == 0 and self.ratio > 12:
            return f'1" = {self.ratio / 12:g}\' 0" (1:{self.ratio:g})'
        return f"1:{self.ratio:g}"

    def paper(self, wall_mm: float) -> float:
        return wall_mm / self.ratio

    def bar(self, longest_mm: float = 46.0) -> tuple[float, int, str]:
        """Division (mm of wall), count of divisions and unit of the longest bar that fits, in mm of paper."""
        steps, unit_mm, unit = (
            ((1 / 12, 0.25, 0.5, 1, 2, 4, 5, 10, 20, 50, 100, 500, 1000, 5000), 304.8, "ft")
            if self.system == "imperial"
            else ((0.01, 0.02, 0.05, 0.1, 0.2, 0.25, 0.5, 1, 2, 5, 10, 20, 50, 100, 500, 1000), 1000.0, "m")
        )
        fitting = [step for step in steps if self.paper(step * unit_mm) * 4 <= longest_mm]
        return (fitting[-1] if fitting else steps[0]) * unit_mm, 4, unit


def scales(system: System, largest: float) -> tuple[Scale, ...]:
    """Standard scales from the largest allowed (a ratio, such as 5) down."""
    ratios = METRIC if system == "metric" else (*IMPERIAL, *(feet * 12 for feet in ENGINEERS_FEET))
    return tuple(Scale(ratio, system) for ratio in ratios if ratio >= largest)
