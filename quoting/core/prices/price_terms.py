"""What else makes a price, as a document says it: overhead, contingency, allowances, options, the checklist."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, TypeVar

from catalog.core.ground.document_reader import Reader, read_all
from quoting.core.prices.allowances import MAX_ALLOWANCES, Allowance
from quoting.core.prices.checklist import ANSWERS, MAX_ITEM, MAX_ITEMS, AnswerKind, ChecklistEntry
from quoting.core.prices.costs import CATEGORIES, Category
from quoting.core.prices.figures import PricingError
from quoting.core.prices.options import MAX_BUILD_OPTIONS, MAX_KEY, MAX_OPTIONS, MAX_TITLE, OptionSpec
from quoting.core.prices.overhead import Contingency, OverheadRule
from quoting.core.prices.variants import MAX_NAME_LENGTH, Variant, read_changes, write_variant

Document = dict[str, Any]
T = TypeVar("T")
NAMES = ("overhead", "contingency", "allowances", "options", "checklist")


@dataclass(frozen=True)
class PriceTerms:
    """What stands beside costs, policy and tax in the pricing of a job; each part may be left out.

    overhead: how the firm's overhead comes in. contingency: a part kept back. allowances: sums for what is not
    chosen yet. options: what the client may tick. checklist: what gets forgotten, with its answers.

    Raises PricingError for options of one key, or more that are builds than can be worked up.

    >>> PriceTerms().options
    ()
    """

    overhead: OverheadRule | None = None
    contingency: Contingency | None = None
    allowances: tuple[Allowance, ...] = ()
    options: tuple[OptionSpec, ...] = ()
    checklist: tuple[ChecklistEntry, ...] = ()

    def __post_init__(self) -> None:
        _refuse_doubled("Options", [option.key for option in self.options])
        _refuse_doubled("Allowances", [allowance.what for allowance in self.allowances])
        _refuse_doubled("Checklist", [entry.item.casefold() for entry in self.checklist])
        builds = sum(option.build is not None for option in self.options)
        if builds > MAX_BUILD_OPTIONS:
            raise PricingError(f"Options: {builds} are builds of their own; at most {MAX_BUILD_OPTIONS} can be.")


def _refuse_doubled(what: str, names: list[str]) -> None:
    for place, name in enumerate(names):
        if name in names[:place]:
            raise PricingError(f"{what}: {name!r} stands twice; each is named once.")


NO_TERMS = PriceTerms()


def read_terms(reader: Reader) -> PriceTerms:
    """Read the parts of a pricing that may be left out.

    reader: the pricing. Returns them; raises DocumentError naming each entry that is wrong.

    >>> read_terms(Reader({"contingency": {"share": "0.05", "shown": True}})).contingency.shown
    True
    """
    overhead, contingency = reader.optional_object("overhead"), reader.optional_object("contingency")
    terms = read_all(
        overhead=lambda: _overhead(overhead) if overhead else None,
        contingency=lambda: _contingency(contingency) if contingency else None,
        allowances=lambda: reader.items("allowances", _allowance, most=MAX_ALLOWANCES),
        options=lambda: reader.items("options", _option, most=MAX_OPTIONS),
        checklist=lambda: reader.items("checklist", _entry, most=MAX_ITEMS),
    )
    return _built(reader, lambda: PriceTerms(**terms))


def write_terms(terms: PriceTerms) -> Document:
    """The parts as a document that `read_terms` reads back the same.

    >>> write_terms(PriceTerms(contingency=Contingency(Decimal("0.05"))))["contingency"]
    {'share': '0.05', 'shown': False}
    """
    overhead, contingency = terms.overhead, terms.contingency
    return {
        "overhead": None
        if overhead is None
        else {"share_of_cost": _plain(overhead.share_of_cost), "per_labour_hour": _plain(overhead.per_labour_hour)},
        "contingency": None
        if contingency is None
        else {"share": _plain(contingency.share), "shown": contingency.shown},
        "allowances": [
            {
                "what": allowance.what,
                "amount": _plain(allowance.amount),
                "category": allowance.category,
                "cost": _plain(allowance.cost),
                "over_markup": _plain(allowance.over_markup),
            }
            for allowance in terms.allowances
        ],
        "options": [_write_option(option) for option in terms.options],
        "checklist": [
            {
                "item": entry.item,
                "answer": entry.answer or None,
                "where": entry.where,
                "reason": entry.reason,
                "by": entry.by,
                "on": entry.on or None,
            }
            for entry in terms.checklist
        ],
    }


def key_of(title: str) -> str:
    """A key for an option whose document gives none.

    title: what the client reads. Returns small letters and digits of it, joined by hyphens; `option` when it has
    none.

    >>> key_of("Cap rail, in oak")
    'cap-rail-in-oak'
    """
    bare = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", bare)[:MAX_KEY].strip("-") or "option"


def _overhead(reader: Reader) -> OverheadRule:
    share = reader.optional_decimal("share_of_cost", "0", "5")
    hourly = reader.optional_money("per_labour_hour")
    reader.finish()
    return _built(reader, lambda: OverheadRule(share, hourly))


def _contingency(reader: Reader) -> Contingency:
    share, shown = reader.decimal("share", "0", "1"), reader.flag("shown", False)
    reader.finish()
    return _built(reader, lambda: Contingency(share, shown))


def _allowance(reader: Reader) -> Allowance:
    what, amount = reader.text("what", longest=MAX_TITLE), reader.money("amount")
    category: Category = reader.choice("category", CATEGORIES, "materials")
    cost, markup = reader.optional_money("cost"), reader.decimal("over_markup", "0", "1", "0")
    return _built(reader, lambda: Allowance(what, amount, category, cost, markup))


def _option(reader: Reader) -> OptionSpec:
    title = reader.text("title", longest=MAX_TITLE)
    key = reader.text("key", key_of(title), longest=MAX_KEY)
    text, group = reader.text("text", ""), reader.text("group", "", longest=MAX_NAME_LENGTH)
    price = reader.optional_money("price", allow_negative=True)
    cost = reader.optional_money("cost", allow_negative=True)
    materials = reader.optional_money("materials_price", allow_negative=True)
    special = reader.optional_money("special_order_cost") or Decimal("0.00")
    inner = reader.optional_object("build")
    build = read_changes(inner, title[:MAX_NAME_LENGTH]) if inner else None
    return _built(reader, lambda: OptionSpec(key, title, text, group, price, cost, materials, special, build))


def _write_option(option: OptionSpec) -> Document:
    return {
        "key": option.key,
        "title": option.title,
        "text": option.text,
        "group": option.group,
        "price": _plain(option.price),
        "cost": _plain(option.cost),
        "materials_price": _plain(option.materials_price),
        "special_order_cost": _plain(option.special_order_cost),
        "build": None if option.build is None else write_changes(option.build),
    }


def write_changes(variant: Variant) -> Document:
    """What a variant changes, without its name, as the entry `read_changes` reads back the same.

    >>> write_changes(Variant("Two"))
    {'faces': [], 'trims': []}
    """
    written = write_variant(variant)
    return {"faces": written["faces"], "trims": written["trims"]}


def _entry(reader: Reader) -> ChecklistEntry:
    item = reader.text("item", longest=MAX_ITEM)
    answer: AnswerKind = reader.optional_choice("answer", ANSWERS) or ""
    where, reason = reader.text("where", "", longest=MAX_TITLE), reader.text("reason", "")
    by, on = reader.text("by", "", longest=MAX_TITLE), reader.optional_day("on")
    return _built(reader, lambda: ChecklistEntry(item, answer, where, reason, by, on.isoformat() if on else ""))


def _built(reader: Reader, make: Callable[[], T]) -> T:
    try:
        return make()
    except PricingError as error:
        raise reader.error("", str(error)) from error


def _plain(value: Decimal | None) -> str | None:
    return None if value is None else format(value, "f")
