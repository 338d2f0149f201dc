"""One search over jobs, walls, clients, orders, quotations and materials, for whoever may open what it names."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import reduce
from operator import and_

from django.db.models import Model, Q, QuerySet
from django.urls import reverse

from catalog.models import Material, Supplier
from jobs.jobs.models import Client, Job
from jobs.orders.models import Order
from jobs.walls.models import Wall
from quoting.platform.people import access
from quoting.quotes.models import Quote

MAX_A_GROUP = 8
MAX_WORDS = 6


@dataclass(frozen=True)
class Hit:
    url: str
    name: str
    about: str


@dataclass(frozen=True)
class Group:
    """more: whether there are others than those shown."""

    name: str
    hits: tuple[Hit, ...]
    more: bool


@dataclass(frozen=True)
class _Kind:
    """keys: columns of which one alone names a row; columns: where each word of the search may stand; page: the URL of
    its own page, and at that of a lead carpenter."""

    name: str
    rows: Callable[[], QuerySet[Model]]
    keys: tuple[str, ...]
    columns: tuple[str, ...]
    page: str
    hit: Callable[[Model, str], Hit]


def find_all(words: str, role: str) -> list[Group]:
    """Groups in which every word stands somewhere in the row, at most MAX_A_GROUP of each, open jobs first."""
    parts = words.split()[:MAX_WORDS]
    groups = [_group(kind, parts, page) for kind, page in _kinds(role)] if parts else []
    return [group for group in groups if group.hits]


def named(words: str, role: str) -> str:
    """The page of the one row whose key this is; empty where there is none, or more than one."""
    key, pages = words.strip(), []
    for kind, page in _kinds(role) if key else ():
        wanted = Q(*((f"{column}__iexact", key) for column in kind.keys), _connector=Q.OR)
        pages += [kind.hit(row, page).url for row in kind.rows().filter(wanted).distinct()[:2]]
    return pages[0] if len(pages) == 1 else ""


def _kinds(role: str) -> Iterable[tuple[_Kind, str]]:
    at_desk = role in access.DESK
    for kind in KINDS:
        page = kind.page if at_desk else AT_THE_SITE.get(kind.page, "")
        if page and access.is_allowed(role, page, "GET"):
            yield kind, page


def _group(kind: _Kind, words: list[str], page: str) -> Group:
    wanted = [Q(*((f"{column}__icontains", word) for column in kind.columns), _connector=Q.OR) for word in words]
    rows = list(kind.rows().filter(reduce(and_, wanted)).distinct()[: MAX_A_GROUP + 1])
    shown = tuple(kind.hit(row, page) for row in rows[:MAX_A_GROUP])
    return Group(kind.name, shown, len(rows) > MAX_A_GROUP)


def _job(row: Model, page: str) -> Hit:
    assert isinstance(row, Job)
    closed = ", closed" if row.closed_on else ""
    return Hit(reverse(page, args=[row.pk]), row.title, f"{row.key}, {row.client.name}{closed}")


def _wall(row: Model, page: str) -> Hit:
    assert isinstance(row, Wall)
    return Hit(reverse(page, args=[row.job_id, row.key]), row.name, f"{row.job.key} {row.job.title}")


def _client(row: Model, page: str) -> Hit:
    assert isinstance(row, Client)
    return Hit(reverse(page, args=[row.pk]), row.name, row.address)


def _order(row: Model, page: str) -> Hit:
    assert isinstance(row, Order)
    return Hit(reverse(page, args=[row.pk]), row.number, f"{row.supplier.name}, {row.get_state_display().lower()}")


def _quote(row: Model, page: str) -> Hit:
    assert isinstance(row, Quote)
    return Hit(reverse(page, args=[row.job_id]), row.number, f"{row.job.key} {row.job.title}")


def _material(row: Model, page: str) -> Hit:
    assert isinstance(row, Material)
    return Hit(reverse(page, args=[row.pk]), row.name, row.code)


def _supplier(row: Model, page: str) -> Hit:
    assert isinstance(row, Supplier)
    return Hit(reverse(page, args=[row.pk]), row.name, row.code)


OPEN_FIRST = ("closed_on", "-created_at", "-pk")
KINDS = (
    _Kind(
        "Jobs",
        lambda: Job.objects.select_related("client").order_by(*OPEN_FIRST),
        ("key", "title"),
        ("key", "title", "client__name", "site_address"),
        "job",
        _job,
    ),
    _Kind(
        "Walls",
        lambda: Wall.objects.select_related("job").order_by("job__closed_on", "-job__created_at", "order"),
        ("name",),
        ("name",),
        "wall",
        _wall,
    ),
    _Kind("Clients", lambda: Client.objects.all(), ("name",), ("name", "address"), "client_change", _client),
    _Kind(
        "Orders",
        lambda: Order.objects.select_related("supplier"),
        ("number", "confirmations__reference"),
        ("number", "supplier__name", "confirmations__reference"),
        "order",
        _order,
    ),
    _Kind("Quotations", lambda: Quote.objects.select_related("job"), ("number",), ("number",), "quote", _quote),
    _Kind("Materials", lambda: Material.objects.all(), ("code",), ("code", "name"), "material", _material),
    _Kind("Suppliers", lambda: Supplier.objects.all(), ("code",), ("code", "name"), "supplier", _supplier),
)
# What a lead carpenter opens of it.
AT_THE_SITE = {"job": "site_sheet", "wall": "site_wall"}
