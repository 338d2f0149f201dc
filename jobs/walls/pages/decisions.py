"""Decisions taken on a wall's page: a reason written beside a failed check, or an earlier one taken back."""

from datetime import date

from django.http import QueryDict

from catalog.core.ground.declared import Document

REASON, BACK = "reason:", "back:"
FOR_ALL, ASKED = "reason-for-all", "asked"
MAX_KEY = 200


def reasons_in(data: QueryDict) -> dict[str, str]:
    """What was written as a reason, by the key of the check; one may be given for all that was asked."""
    for_all = data.get(FOR_ALL, "")
    reasons = {key[:MAX_KEY]: for_all for key in data.getlist(ASKED)} if for_all.strip() else {}
    return reasons | own_reasons(data)


def own_reasons(data: QueryDict) -> dict[str, str]:
    return {
        name.removeprefix(REASON)[:MAX_KEY]: str(value)
        for name, value in data.items()
        if name.startswith(REASON) and str(value).strip()
    }


def with_decisions(document: Document, data: QueryDict, shown_as: str, by: str, on: date) -> Document:
    """The wall's document with the page's decisions in it, in the name of who is logged in.

    shown_as: the key the page knew the wall by; a new wall has its own only once it is stored.
    """
    reasons = {_keyed(key, shown_as, document["key"]): reason for key, reason in reasons_in(data).items()}
    back = {name.removeprefix(BACK) for name in data if name.startswith(BACK)}
    decisions = [entry for entry in document["overrides"] if entry["key"] not in back and entry["key"] not in reasons]
    new = [{"key": key, "reason": reason.strip(), "by": by, "on": on.isoformat()} for key, reason in reasons.items()]
    return document | {"overrides": [*decisions, *new]}


def _keyed(check: str, shown_as: str, wall_key: str) -> str:
    wall, slash, rest = check.partition("/")
    return f"{wall_key}{slash}{rest}" if wall == shown_as else check
