"""Who may do what: every URL states it beside its view, by `route` in the urls.py of its room. Deny by default.

A URL that states no roles, or shares its name with another, answers nobody and fails the suite. A method that it
does not state is not allowed to anyone. HEAD follows GET.
"""

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from django.http import HttpRequest
from django.urls import URLPattern, URLResolver, get_resolver, path

from quoting.platform.people.models.people import Role

Roles = frozenset[str]
WORD = re.compile(r"(?=[A-Z])")

ANONYMOUS = "anonymous"
ALL_ROLES: tuple[str, ...] = (ANONYMOUS, Role.ESTIMATOR, Role.OFFICE, Role.LEAD, Role.OWNER)

NOBODY: Roles = frozenset()
EVERYONE: Roles = frozenset(ALL_ROLES)
STAFF: Roles = EVERYONE - {ANONYMOUS}
# Those who see costs and suppliers, but not as such how the job is priced.
DESK: Roles = STAFF - {Role.LEAD}
# Those who set how a job is priced, and see margins: in job files as well as on pages.
PRICERS: Roles = frozenset({Role.ESTIMATOR, Role.OWNER})
OWNER: Roles = frozenset({Role.OWNER})
# Those who buy, and so are told by mail what has to be ordered.
BUYERS: Roles = frozenset({Role.OFFICE, Role.OWNER})
# Whoever holds the secret link of a client's page; the link itself is asked for in quoting/client/pages/gate.py.
CLIENT: Roles = EVERYONE


def route(address: str, view: Any, name: str = "", *, both: Roles = NOBODY, **roles: Roles) -> URLPattern:
    """A URL and who may do what there, by method; `both` stands for GET and POST.

    It is called as its view is; view may be a class of the API, whose name then reads `api_own_name`.
    """
    if isinstance(view, type):
        name, view = name or f"api{WORD.sub('_', view.__name__).lower()}", view.as_view()  # type: ignore[attr-defined]
    entry = path(address, view, name=name or view.__name__)
    entry.roles = {"GET": both, "POST": both, **roles} if both else roles
    return entry


def matrix() -> Mapping[str, Mapping[str, Roles]]:
    """Who may do what at each URL, by its name, as the URLs in use state it."""
    return _collected(get_resolver())


@cache
def _collected(resolver: URLResolver) -> Mapping[str, Mapping[str, Roles]]:
    stated = list(_stated(resolver))
    times = Counter(name for name, _ in stated)
    return {name: roles for name, roles in stated if roles and times[name] == 1}


def _stated(resolver: URLResolver, names: str = "") -> Iterator[tuple[str, Mapping[str, Roles]]]:
    for entry in resolver.url_patterns:
        if isinstance(entry, URLResolver):
            yield from _stated(entry, f"{names}{entry.namespace}:" if entry.namespace else names)
        else:
            yield f"{names}{entry.name or ''}", getattr(entry, "roles", {})


def declared_methods(url_name: str) -> Mapping[str, Roles] | None:
    """The methods of a URL and who may use each, HEAD included; None when it states no roles."""
    row = matrix().get(url_name)
    if row is None or "GET" not in row:
        return row
    return {"HEAD": row["GET"], **row}


def is_allowed(role: str, url_name: str, method: str) -> bool:
    return role in (declared_methods(url_name) or {}).get(method, NOBODY)


def role_of(person: object) -> str:
    return person.role if getattr(person, "is_active", False) else ANONYMOUS  # type: ignore[attr-defined]


def sees_suppliers(request: HttpRequest) -> bool:
    return role_of(request.user) in DESK


def sees_margin(request: HttpRequest) -> bool:
    return role_of(request.user) in PRICERS
