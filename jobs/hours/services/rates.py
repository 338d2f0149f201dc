"""What an hour costs the firm by the name of a rate, as the rooms of prices know it; None in force is a gap."""

from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal

RatesReader = Callable[[date], Mapping[str, Decimal]]
_readers: list[RatesReader] = []


def read_labour_rates_with(reader: RatesReader) -> None:
    """reader: the labour rates in force on a day, by name."""
    _readers.append(reader)


class RatesOfDays:
    """The rates of each day asked for, read once."""

    def __init__(self) -> None:
        self._days: dict[date, Mapping[str, Decimal]] = {}

    def on(self, day: date, name: str) -> Decimal | None:
        return self.of(day).get(name)

    def of(self, day: date) -> Mapping[str, Decimal]:
        if day not in self._days:
            self._days[day] = _readers[-1](day) if _readers else {}
        return self._days[day]


def rate_names(today: date) -> list[str]:
    """Names a worker's rate may have."""
    return sorted(RatesOfDays().of(today))
