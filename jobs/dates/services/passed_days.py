from jobs.core.ordering.needs import DatedNeed
from quoting.platform.formatting import day_words


def passed_words(need: DatedNeed) -> str:
    """Of an item whose order-by day has passed: when an order of today is usable; else nothing."""
    if need.if_ordered_today is None or need.in_hand is None or need.in_hand >= 0:
        return ""
    late = need.late_workdays or 0
    how = f"{late} working day{'' if late == 1 else 's'} late" if late else "in time"
    return f"Its day to order has passed; ordered today it is usable {day_words(need.if_ordered_today.usable)}, {how}."
