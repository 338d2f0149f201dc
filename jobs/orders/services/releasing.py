"""A named person lets an item be ordered as it is stated now; whatever held it then is kept beside the release."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.db import transaction

from catalog.core.ground.declared import write
from catalog.core.ground.refusal import Refused
from catalog.services.row_sync import save_if_changed
from jobs.core.ordering.release import ReleaseHold, open_after, window_words
from jobs.jobs.models import Job
from jobs.jobs.services.changes import fact_changed
from jobs.orders.models import Release, SignOff
from jobs.orders.services.items import Item, item_key, live_item
from jobs.orders.services.job_standings import job_standings, samples_of
from jobs.orders.services.line_statement import still_states
from jobs.orders.services.order_changes import orders_changed
from jobs.orders.services.refusal import clean_text
from jobs.orders.services.standing import holds_of
from quoting.platform.people.signatures import Signature

MAX_REASON = 2000


@dataclass(frozen=True)
class ItemStanding:
    """An item with what holds it, and its release while that is of what the item states now. window_until: last day
    its job's acceptance can be taken back."""

    item: Item
    holds: tuple[ReleaseHold, ...]
    release: Release | None
    is_stale: bool
    window_until: date | None = None

    @property
    def window(self) -> str:
        """What it means for ordering that the acceptance can still be taken back; empty where it cannot."""
        dates = self.item.need.dates
        return window_words(self.window_until, dates.order_by if dates else None) if self.window_until else ""

    @property
    def needs_release(self) -> bool:
        """What is bought from stock can be sent back; what is made or ordered for the job cannot."""
        return self.item.need.is_long_lead

    @property
    def is_signed(self) -> bool:
        return not any(hold.kind == "quote" for hold in self.holds)

    @property
    def asks_reason(self) -> bool:
        """Stock of a job that is not signed: whoever orders it says why, and stands for it by name."""
        return not self.needs_release and not self.is_signed and self.release is None

    @property
    def is_ready(self) -> bool:
        """Whether it can be ordered."""
        return not self.asks_reason if not self.needs_release else self.release is not None or not self.holds

    @property
    def blocking(self) -> tuple[ReleaseHold, ...]:
        """Holds nobody may set aside."""
        return tuple(hold for hold in self.holds if not hold.may_override)


def standing_of_item(item: Item, moment: datetime) -> ItemStanding:
    return standings_of_items([item], moment)[item.key]


def standings_of_items(items: Sequence[Item], moment: datetime) -> dict[str, ItemStanding]:
    """By key, in a number of queries that does not grow with the items. moment: now by the firm's own clock."""
    today, jobs = moment.date(), {item.job.pk for item in items}
    standings, samples = job_standings(jobs, today), samples_of(jobs)
    rows = Release.objects.filter(job__in=jobs, ended_at=None)
    releases = {item_key(row.job_id, row.material_id): row for row in rows}
    standings_of_items = {}
    for item in items:
        sample = samples.get((item.job.pk, item.need.material), "not_needed")
        holds = holds_of(item, standings[item.job.pk], sample, today)
        release = releases.get(item.key)
        stale = release is not None and not still_states(release, item.statement)
        standings_of_items[item.key] = ItemStanding(
            item, holds, None if stale else release, stale, standings[item.job.pk].window_until
        )
    return standings_of_items


def standing_release(job: Job, material: str) -> Release | None:
    return Release.objects.filter(job=job, material=material, ended_at=None).first()


@transaction.atomic
def release_item(
    job: Job, material: str, *, seen_mark: str, reason: str, by: str, now: datetime, moment: datetime
) -> Release:
    """seen_mark: of the statement that was looked at. The same release sent twice is one. Raises Refused."""
    job = Job.objects.select_for_update().get(pk=job.pk)
    item = live_item(job, material, moment)
    if item.statement.mark != seen_mark:
        raise Refused(f"What an order of {item.need.name} states has changed since you opened the page. Open it again.")
    present = standing_release(job, material)
    if present is not None and still_states(present, item.statement):
        return present
    reason = clean_text(reason, "The reason", MAX_REASON)
    holds = standing_of_item(item, moment).holds
    left = open_after(holds, reason)
    if left:
        raise Refused(
            f"{item.need.name} is not released.",
            *(hold.sentence for hold in left),
            *(["Write the reason why these may be set aside."] if any(hold.may_override for hold in left) else []),
        )
    if present is not None:
        _end(present, by, "Changed since, and released again.", now)
    release = Release.objects.create(
        job=job,
        material_id=material,
        statement=write(item.statement),
        statement_mark=seen_mark,
        holds=[{"key": hold.key, "sentence": hold.sentence} for hold in holds],
        past_holds=bool(holds),
        reason=reason if holds else "",
        released_at=now,
        released_by_name=by,
    )
    fact_changed(job.pk)
    return release


@transaction.atomic
def end_release(job: Job, material: str, *, reason: str, by: str, now: datetime) -> None:
    """Not for what is on a placed order: that is called off with the supplier."""
    row = Release.objects.select_for_update().filter(job=job, material=material, ended_at=None).first()
    if row is None:
        return
    if row.lines.filter(order__state="placed").exists():
        raise Refused("It is ordered already; call the order off with the supplier instead.")
    reason = clean_text(reason, "The reason", MAX_REASON)
    if not reason:
        raise Refused("Write why the release is undone.")
    _end(row, by, reason, now)
    fact_changed(job.pk)


def _end(row: Release, by: str, reason: str, now: datetime) -> None:
    save_if_changed(row, {"ended_at": now, "ended_by_name": by, "ended_reason": reason})


@transaction.atomic
def ask_for_sample(job: Job, material: str, what: str, signature: Signature, now: datetime) -> SignOff:
    """The item then waits until somebody agreed to it. The same one asked for twice is one."""
    what = " ".join(clean_text(what, "Sample", MAX_REASON).split())
    if not 0 < len(what) <= 300:
        raise Refused("Sample: say in at most 300 characters what is shown: profile, size, grade, colour.")
    last = SignOff.objects.filter(job=job, material=material).first()
    if last is not None and last.what == what and last.agreed_on is None:
        return last
    row = SignOff.objects.create(
        job=job, material_id=material, what=what, asked_on=signature.on, entered_at=now, entered_by_name=signature.by
    )
    fact_changed(job.pk)
    return row


@transaction.atomic
def agree_sample(row: SignOff, agreed_by: str, signature: Signature) -> SignOff:
    name = " ".join(clean_text(agreed_by, "Agreed by", MAX_REASON).split())
    if not 0 < len(name) <= 200:
        raise Refused("Agreed by: write the name of the person who agreed.")
    row = SignOff.objects.select_for_update().get(pk=row.pk)
    if row.agreed_on is None:
        save_if_changed(row, {"agreed_on": signature.on, "agreed_by": name})
        orders_changed([row.job_id])
    return row
