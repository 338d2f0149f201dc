"""Hours of a step of the work from what drives them, and the working days a crew takes over them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

MAN_DAYS_SOURCE = "US Navy Builder manual NAVEDTRA 14045"


@dataclass(frozen=True)
class Driver:
    """What the hours of a step grow with, and how fast.

    Args:
        what: in words, such as "Studs".
        quantity: zero or more, in `unit`.
        unit: written beside the quantity, such as "sq ft"; empty for things counted one by one.
        rate_hours: man-hours for `per` units, zero or more.
        per: units the rate is given for, > 0.

    Raises:
        ValueError: a figure that is not finite or out of its range, naming the driver.

    Source: man-hours = quantity / unit x rate, US Navy Builder manual NAVEDTRA 14045.

    >>> Driver("Board", 16_000.0, "sq ft", 33.0, 1000.0).hours
    528.0
    """

    what: str
    quantity: float
    unit: str
    rate_hours: float
    per: float = 1.0

    def __post_init__(self) -> None:
        for name, value in (("quantity", self.quantity), ("rate", self.rate_hours)):
            if not (math.isfinite(value) and value >= 0):
                raise ValueError(f"{self.what}: the {name} must be zero or more, not {value:g}")
        if not (math.isfinite(self.per) and self.per > 0):
            raise ValueError(f"{self.what}: a rate must be for more than {self.per:g} {self.unit}".rstrip())

    @property
    def hours(self) -> float:
        return self.quantity / self.per * self.rate_hours

    @property
    def in_words(self) -> tuple[tuple[str, str], tuple[str, str]]:
        """The quantity and the rate as an explanation shows them."""
        if not self.unit:
            return (self.what, f"{self.quantity:g}"), ("Rate", f"{self.rate_hours:g} h each")
        per = f"per {self.unit}" if self.per == 1 else f"per {self.per:,g} {self.unit}"
        return (self.what, f"{self.quantity:.1f} {self.unit}"), ("Rate", f"{self.rate_hours:.4g} h {per}")


@dataclass(frozen=True)
class StepQuantities:
    """What the hours of a step grow with, whatever its rates are.

    units: by the firm's standard, how much its rate is multiplied by, zero or more. is_curved: whether the curve factor
    multiplies the whole.
    """

    key: str
    units: Mapping[str, float]
    is_curved: bool

    def hours(self, rates: Mapping[str, float]) -> float:
        """Man-hours at these rates of the firm's standards; one that is missing counts nothing.

        rates: by standard, the curve factor too. Source: as `Driver`.

        >>> trim = StepQuantities("trim", {"trim_hours_per_m": 20.0}, True)
        >>> trim.hours({"trim_hours_per_m": 0.5, "curve_factor": 1.4})
        14.0
        """
        factor = rates.get("curve_factor", 0.0) if self.is_curved else 1.0
        return sum(units * rates.get(name, 0.0) for name, units in self.units.items()) * factor


@dataclass(frozen=True)
class Pace:
    """How fast a crew gets through hours.

    Args:
        crew: people, >= 1.
        hours_per_workday: productive hours of one of them in a working day, > 0 to 24.
        delay_factor: times as many man-days as without delays, >= 1.
        availability: share of its days the crew is on this job, over 0 to 1.
        efficiency: share of its pace it keeps up, over 0 to 1.

    Raises:
        ValueError: a figure out of its range, naming it.

    Source: man-days = man-hours / hours a day x delay factor; duration = man-days / crew / availability /
    efficiency: US Navy Builder manual NAVEDTRA 14045.

    >>> pace = Pace(12, 8.0, availability=0.75, efficiency=0.9375)
    >>> round(pace.days_for_man_days(70.0), 1), pace.workdays(70.0 * 8)
    (8.3, 9)
    """

    crew: int
    hours_per_workday: float
    delay_factor: float = 1.0
    availability: float = 1.0
    efficiency: float = 1.0

    def __post_init__(self) -> None:
        if self.crew < 1:
            raise ValueError(f"a crew must be 1 or more, not {self.crew}")
        if not 0 < self.hours_per_workday <= 24:
            raise ValueError(f"the hours of a day must be over 0 and at most 24, not {self.hours_per_workday:g}")
        if not (math.isfinite(self.delay_factor) and self.delay_factor >= 1):
            raise ValueError(f"the delay factor must be 1 or more, not {self.delay_factor:g}")
        for name, share in (("availability", self.availability), ("efficiency", self.efficiency)):
            if not 0 < share <= 1:
                raise ValueError(f"the {name} must be over 0 and at most 1, not {share:g}")

    def man_days(self, hours: float) -> float:
        """Man-days of so many man-hours, delays included.

        >>> Pace(2, 8.0).man_days(16_000 / 1000 * 33)
        66.0
        """
        return hours / self.hours_per_workday * self.delay_factor

    def days_for_man_days(self, man_days: float) -> float:
        """Working days, in parts of a day, in which the crew does so many man-days.

        >>> Pace(2, 8.0).days_for_man_days(3.0)
        1.5
        """
        return man_days / self.crew / self.availability / self.efficiency

    def workdays(self, hours: float) -> int:
        """Whole working days the crew takes over so many man-hours, at least one.

        >>> Pace(2, 8.0).workdays(16.0), Pace(2, 8.0).workdays(16.1)
        (1, 2)
        """
        # A hair less, so that a day's hours summed in another order are still that day's.
        return max(1, math.ceil(self.days_for_man_days(self.man_days(hours)) - 1e-9))
