"""Items without an order-by day, each lack said once with the way to clear it."""

from dataclasses import dataclass
from urllib.parse import urlencode

from django.urls import reverse

from jobs.dates.services.item_schedule import OpenJobItems
from jobs.dates.services.undated_items import Undated, undated_items

DO = {"supplier": "Enter who sells them", "lead": "Enter the lead times", "day": "Agree the days"}


@dataclass(frozen=True)
class UndatedLine:
    sentence: str
    url: str
    do: str


def undated_lines(read: OpenJobItems) -> list[UndatedLine]:
    return [UndatedLine(item.sentence, _url(item), DO[item.lack]) for item in undated_items(read)]


def _url(undated: Undated) -> str:
    if undated.lack != "day":
        return f"{reverse('catalog')}?{urlencode({'lacks': undated.lack})}"
    [only, *more] = undated.job_ids
    return reverse("order_dates") if more else reverse("job_dates", args=[only])
