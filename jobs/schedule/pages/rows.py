"""What stands beside each row: the figures that hold where the row is left empty."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from jobs.core.ordering.date_moves import JobDates
from jobs.core.ordering.needs import DatedNeed
from jobs.core.schedule.activities import PlannedActivity
from jobs.schedule.pages.form import ActivityForm, DatesForm, ItemForm
from quoting.platform.pages.entry_form import EntryForm
from quoting.platform.screen_days import day_words

NONE_LATE: Mapping[str, date] = {}
NOT_IN_CHAIN = "The job has no such activity now. Empty the row to forget it."
NOT_BOUGHT = "The job buys none of it now. Empty the row to forget it."


@dataclass(frozen=True)
class DatesRow:
    """One activity or item. without: what holds while nothing is set. now: as stored. trouble: why it is idle."""

    form: EntryForm
    label: str
    without: str = ""
    now: str = ""
    trouble: str = ""

    @property
    def is_agreed(self) -> bool:
        """Whether anything is set for it, or it is to be looked at."""
        named = getattr(self.form, "names", "")
        return bool(self.trouble) or any(self.form[name].value() for name in self.form.fields if name != named)


@dataclass(frozen=True)
class StoredDates:
    """The days as stored, and as they would be without any change to activities and without any agreed date."""

    now: JobDates
    own_chain: JobDates
    own_items: JobDates

    @property
    def chain(self) -> dict[str, PlannedActivity]:
        return {activity.key: activity for activity in self.own_chain.plan.activities}

    @property
    def items(self) -> dict[str, DatedNeed]:
        # By name: in the order of their days the rows would change places with every save.
        return {
            need.material: need for need in sorted(self.own_items.needs, key=lambda need: (need.name, need.material))
        }


def activity_rows(form: DatesForm, standing: StoredDates | None) -> list[DatesRow]:
    computed = standing.chain if standing else {}
    planned = {activity.key: activity for activity in standing.now.plan.activities} if standing else {}
    return [
        _activity_row(entry, computed, planned) for entry in form.activities.forms if isinstance(entry, ActivityForm)
    ]


def _activity_row(
    form: ActivityForm, computed: dict[str, PlannedActivity], planned: dict[str, PlannedActivity]
) -> DatesRow:
    own, now = computed.get(form.name), planned.get(form.name)
    if own is not None:
        form.fields["duration_workdays"].widget.attrs["placeholder"] = str(own.duration_workdays)
    if own is None:
        return DatesRow(form, form.name, trouble=NOT_IN_CHAIN)
    return DatesRow(
        form,
        own.name,
        f"Computed: {workdays(own.duration_workdays)}.",
        span_words(now) if now else "Left out of this job.",
    )


def item_rows(form: DatesForm, standing: StoredDates | None, late: Mapping[str, date] = NONE_LATE) -> list[DatesRow]:
    """late: by material, the latest day it may be on site so that the promised day still holds."""
    own = standing.items if standing else {}
    now = {need.material: need for need in standing.now.needs} if standing else {}
    return [_item_row(entry, own, now, late) for entry in form.dates.forms if isinstance(entry, ItemForm)]


def _item_row(
    form: ItemForm, own: dict[str, DatedNeed], now: dict[str, DatedNeed], late: Mapping[str, date]
) -> DatesRow:
    need = own.get(form.name)
    if need is None:
        return DatesRow(form, form.name, trouble=NOT_BOUGHT)
    dates = now[form.name].dates if form.name in now else None
    sentences = [f"Order by {day_words(dates.order_by)}."] if dates else []
    if form.name in late:
        sentences.append(f"On site by {day_words(late[form.name])} at the latest.")
    for entry, days in (("cushion_workdays", need.cushion_workdays), ("sign_off_workdays", need.sign_off_workdays)):
        form.fields[entry].widget.attrs["placeholder"] = str(days)
    return DatesRow(form, need.name, f"{_own_need_by(need)}.", " ".join(sentences))


def sentences_of(form: DatesForm, standing: StoredDates | None) -> list[str]:
    """Everything wrong, each with the row it is about, for a place away from the fields."""
    sentences = [*form.others, *(fault for rows in form.rows.values() for fault in rows.faults)]
    rows: list[tuple[str, EntryForm]] = [("", form.promise)]
    rows += [(f"Closed days {place}", entry) for place, entry in enumerate(form.closed.forms, 1)]
    rows += [(f"Activity of this job {place}", entry) for place, entry in enumerate(form.own.forms, 1)]
    rows += [(f"Link {place}", entry) for place, entry in enumerate(form.links.forms, 1)]
    rows += [(row.label, row.form) for row in (*activity_rows(form, standing), *item_rows(form, standing))]
    for label, each in rows:
        sentences += [
            f"{label}: {message}" if label else message for field in each.errors.values() for message in field
        ]
    return sentences


def _own_need_by(need: DatedNeed) -> str:
    return f"If empty: {day_words(need.need_by)}" if need.need_by else "If empty: no day"


def workdays(count: int) -> str:
    return f"{count} working day{'' if count == 1 else 's'}"


def span_words(activity: PlannedActivity) -> str:
    if activity.times is None:
        return "Not dated."
    return f"{_span(activity.times.early_start, activity.times.early_finish)}."


def _span(first: date, last: date) -> str:
    return day_words(first) if first == last else f"{day_words(first)} to {day_words(last)}"
