"""The account each kind of row goes to at the bookkeeper's."""

from typing import Any

from django.db import transaction

from catalog.core.ground.document_reader import Reader
from catalog.services.row_sync import save_if_changed
from quoting.month.models import Account, AccountCode
from quoting.platform.read_once import read_once

MAX_CODE = 40


def codes() -> dict[str, str]:
    """By kind; empty where none is given."""
    given = read_once("account codes", lambda: dict(AccountCode.objects.values_list("kind", "code")))
    return {kind: given.get(kind, "") for kind in Account.values}


@transaction.atomic
def save_codes(document: dict[str, Any]) -> None:
    """Those of the document; an empty code is none."""
    reader = Reader(document)
    given = {kind: reader.text(kind, "", longest=MAX_CODE).strip() for kind in Account.values if reader.has(kind)}
    reader.finish()
    for kind, code in given.items():
        row = AccountCode.objects.filter(kind=kind).first()
        if not code and row is not None:
            row.delete()
        elif code:
            save_if_changed(row or AccountCode(kind=kind), {"code": code})
