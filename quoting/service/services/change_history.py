"""Who changed what: entries of the kept history as sentences, before and after side by side."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any

from django.db.models import Field, QuerySet
from django.utils.timezone import get_current_timezone

from catalog.core.ground.plain_text import plain
from catalog.core.ground.units import System, format_length
from catalog.core.materials.specs import PROPERTIES
from catalog.models import Firm, LeadTerm, Material, MaterialFact, Pack, Price
from catalog.pages.words import system_of
from jobs.core.measure.key_words import key_words, place_words
from jobs.deliveries.models import ConfirmedLine, ReceiptLine, ReturnedGoods
from jobs.hours.models import HoursLeft, TimeEntry
from jobs.jobs.models import Job
from quoting.core.prices.costs import CATEGORIES
from quoting.life.models import FollowUp
from quoting.platform.formatting import day_words, share_words, with_day_words
from quoting.pricing.models.shares import join_share

# What changes with everything else and says nothing by itself, and what only orders rows.
UNTOLD = frozenset(
    {"id", "version", "order", "created_at", "created_by", "job", "wall", "material", "pack", "pricing", "walls_mark"}
    # What an order states is told on its sheet; keys and marks are for programs.
    | {"statement", "statement_mark", "request_key", "line", "revision"}
)
# They outlive what they are of, and are told with it all the same.
CAME_OF_A_LINE = (ConfirmedLine, ReceiptLine, ReturnedGoods)
# Told as they were sent, many at once.
TOLD_AS_SENT = (TimeEntry, HoursLeft)
# A row of the catalog hangs on its material; on a job the material is what was chosen.
UNTOLD_ON_A_JOB = UNTOLD - {"material"}
# What tells the margin or what an hour costs, for those who do not see it.
MARGIN = frozenset(
    {"mode", "target_margin", "minimum_margin", "cost", "rate", *(f"markup_{category}" for category in CATEGORIES)}
)
DID = {"+": "entered", "~": "changed", "-": "deleted"}


@dataclass(frozen=True)
class EntryChange:
    label: str
    before: str
    after: str


@dataclass(frozen=True)
class Change:
    """One row of one table, entered, changed or taken away by one person at one moment; or something that befell."""

    when: datetime
    who: str
    what: str
    did: str
    entries: tuple[EntryChange, ...]
    order: int = 0
    is_event: bool = False

    @property
    def is_first(self) -> bool:
        """There is no before."""
        return self.is_event or self.did == DID["+"]


@dataclass(frozen=True)
class Kept:
    """The history of one table's rows, and how such a row is called."""

    rows: QuerySet[Any]
    name: Callable[[Any], str]


def changes_of(kepts: Iterable[Kept], untold: frozenset[str] = UNTOLD) -> list[Change]:
    """Newest first. One query for each table. untold: columns that are not told."""
    system = system_of(Firm.objects.first())
    changes = [change for entry in kepts for change in _changes(entry, untold, system)]
    return sorted(changes, key=lambda change: (change.when, change.order), reverse=True)


def material_changes(material: Material) -> list[Change]:
    packs = dict(Pack.history.filter(material_id=material.pk).values_list("id", "label"))
    return changes_of(
        [
            Kept(Material.history.filter(id=material.pk), lambda row: "the material"),
            Kept(Pack.history.filter(material_id=material.pk), lambda row: f"the pack {row.label}"),
            Kept(
                Price.history.filter(pack_id__in=packs),
                lambda row: f"the price of {packs[row.pack_id]} from {day_words(row.starts_on)}",
            ),
            Kept(MaterialFact.history.filter(material_id=material.pk), _fact_name),
            Kept(
                LeadTerm.history.filter(material_id=material.pk),
                lambda row: f"the lead time said on {day_words(row.stated_on)}",
            ),
        ]
    )


def _fact_name(row: Any) -> str:
    known = PROPERTIES.get(row.name)
    label = known.label if known else row.name
    return f"the figure {label[0].lower()}{label[1:]}"


def job_changes(job: Job, *, with_margin: bool) -> list[Change]:
    return changes_of(kept_of_job(job), UNTOLD_ON_A_JOB if with_margin else UNTOLD_ON_A_JOB | MARGIN)


def kept_of_job(job: Job) -> Iterator[Kept]:
    """Every table that hangs on the job and keeps a history, found through the models themselves."""
    yield Kept(Job.history.filter(id=job.pk).select_related("client"), lambda row: "the job")
    yield Kept(FollowUp.history.filter(revision__quote__job=job.pk), lambda row: "when the client is asked next")
    for relation in Job._meta.related_objects:
        model = relation.related_model
        if hasattr(model, "history") and relation.field.name == "job" and model not in TOLD_AS_SENT:
            yield from _kept_under(model, "job_id", [job.pk])


def _kept_under(model: Any, column: str, parents: list[int]) -> Iterator[Kept]:
    rows = model.history.filter(**{f"{column}__in": parents})
    yield Kept(rows, _named(model))
    own = [
        relation
        for relation in model._meta.related_objects
        if hasattr(relation.related_model, "history")
        and (relation.on_delete.__name__ == "CASCADE" or relation.related_model in CAME_OF_A_LINE)
    ]
    # A row with both a job and a wall is found through the job already.
    own = [entry for entry in own if not _has_job(entry.related_model)]
    if own:
        ids = list(rows.values_list("id", flat=True).distinct().order_by())
        for relation in own:
            yield from _kept_under(relation.related_model, f"{relation.field.name}_id", ids)


def _has_job(model: Any) -> bool:
    return any(field.name == "job" for field in model._meta.fields)


def _named(model: Any) -> Callable[[Any], str]:
    label = model._meta.verbose_name

    def name(row: Any) -> str:
        for column in ("name", "what", "event", "key", "material_id", "dimension"):
            if getattr(row, column, ""):
                return f"{label} “{_in_words(column, str(getattr(row, column)))}”"
        return f"the {label}"

    return name


def _in_words(column: str, value: str) -> str:
    """The place of a dimension and the key of a check in words; any other name as it is."""
    if column == "dimension":
        return place_words(value)
    return key_words(value) if column == "key" and "/" in value else value


def _changes(changes: Kept, untold: frozenset[str], system: System) -> Iterator[Change]:
    by_row: dict[int, list[Any]] = defaultdict(list)
    for row in changes.rows.select_related("history_user", *(changes.rows.query.select_related or ())).order_by(
        "history_date", "history_id"
    ):
        by_row[row.id].append(row)
    for versions in by_row.values():
        before = None
        for row in versions:
            entries = tuple(_entries(before, row, untold, system))
            # A row saved again without a change is no change.
            if entries or row.history_type != "~":
                who = str(row.history_user) if row.history_user else "the service itself"
                yield Change(row.history_date, who, changes.name(row), DID[row.history_type], entries, row.history_id)
            before = row


def _entries(before: Any, after: Any, untold: frozenset[str], system: System) -> Iterator[EntryChange]:
    if after.history_type == "-":
        for field in _told(after, untold):
            if shown := _shown(after, field, system):
                yield EntryChange(_label(field), shown, "")
        return
    for field in _told(after, untold):
        old = _shown(before, field, system) if before is not None and before.history_type != "-" else ""
        new = _shown(after, field, system)
        if old != new:
            yield EntryChange(_label(field), old, new)


def _told(row: Any, untold: frozenset[str]) -> Iterator[Field[Any, Any]]:
    for field in row._meta.concrete_fields:
        # A share is kept as so many of so many parts, and told as one.
        if (
            field.name not in untold
            and not field.name.startswith("history_")
            and not field.name.endswith("share_parts")
        ):
            yield field


def _label(field: Field[Any, Any]) -> str:
    name = str(field.verbose_name).removesuffix(" id").removesuffix(" count").removesuffix(" mm").removesuffix(" deg")
    return name[:1].upper() + name[1:]


def _offer_words(offer: dict[str, Any]) -> str:
    prices = [
        f"{entry['pack']} {entry['amount']} from {with_day_words(entry['starts_on'])}" for entry in offer["prices"]
    ]
    terms = [f"{entry['production']} and {entry['transit_workdays']} in transit" for entry in offer["lead_terms"]]
    return f"{offer['supplier']}: {', '.join([*prices, *terms]) or 'nothing'}"


def _shown(row: Any, field: Field[Any, Any], system: System) -> str:
    value = getattr(row, field.attname)
    if value is None or value == "":
        return ""
    if field.name.endswith("share_count"):
        return share_words(join_share(value, getattr(row, field.name.replace("_count", "_parts"))))
    if field.is_relation and field.is_cached(row):
        return str(getattr(row, field.name) or value)
    if field.name == "offers":
        return "; ".join(_offer_words(entry) for entry in value)
    if field.choices:
        return str(dict(field.flatchoices).get(value, value))
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list | dict):
        lengths = field.name.endswith("_mm") and isinstance(value, list)
        return "; ".join(format_length(float(entry), system) for entry in value) if lengths else _sentences(value)
    if field.name.endswith("_mm"):
        return format_length(float(value), system)
    if field.name.endswith("_deg"):
        return f"{plain(value)}°"
    if isinstance(value, Decimal):
        return plain(value) or "0"
    if isinstance(value, datetime):
        moment = value.astimezone(get_current_timezone())
        return f"{day_words(moment.date())}, {moment:%H:%M}"
    if isinstance(value, date):
        return day_words(value)
    if isinstance(value, time):
        return value.isoformat("minutes")
    return _in_words(field.name, str(value))


def _sentences(value: Any) -> str:
    """What of a list or a document people read; the rest is for programs."""
    if not isinstance(value, list):
        return ""
    sentences = [entry.get("sentence") if isinstance(entry, dict) else entry for entry in value]
    return "; ".join(str(entry) for entry in sentences if entry)
