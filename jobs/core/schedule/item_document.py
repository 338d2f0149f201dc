"""The items of a job beside its walls, read from its document and written back."""

from __future__ import annotations

from catalog.core.ground.declared import Document
from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader
from catalog.core.ground.plain_text import plain
from jobs.core.schedule.activity_document import key_of_name
from jobs.core.takeoff.job_items import MAX_QUANTITY, RULES, JobItem, JobItemError

MAX_ITEMS = 200


def read_items(about: Reader) -> tuple[JobItem, ...]:
    """The items of a job, `items` of its document.

    about: the document's `job`. Returns them in their order. Raises DocumentError naming the entry.

    >>> read_items(Reader({"items": [{"material": "DOOR", "quantity": 1, "activity": "trim"}]}))[0].key
    'door'
    """
    items = about.items("items", _item, most=MAX_ITEMS)
    keys = [item.key for item in items]
    twice = dict.fromkeys(key for key in keys if keys.count(key) > 1)
    if twice:
        message = 'is given twice; give each a "key" of its own'
        raise DocumentError(DocumentProblem(about.where("items"), f'"{key}" {message}') for key in twice)
    return items


def write_item(item: JobItem) -> Document:
    """An item as a document that `read_items` reads back the same. item: of the job. Returns the document."""
    return {
        "key": item.key,
        "material": item.material,
        "rule": item.rule,
        "quantity": plain(item.quantity),
        "activity": item.activity,
        "need_by": item.need_by.isoformat() if item.need_by else None,
    }


def _item(reader: Reader) -> JobItem:
    material = reader.text("material", longest=60)
    key = reader.text("key", "", longest=60) or key_of_name(material)
    rule = reader.choice("rule", RULES, "count")
    quantity = reader.decimal("quantity", "0.000001", str(MAX_QUANTITY))
    activity = reader.text("activity", "", longest=60) or None
    need_by = reader.optional_day("need_by")
    if "/" in key:
        raise reader.error("key", f'{key!r} must hold no "/"')
    try:
        return JobItem(key, material, rule, quantity.normalize(), activity, need_by)
    except JobItemError as error:
        raise reader.error(error.field, error.reason) from error
