"""What is to be done about an item, in the words of Today and of mails."""

from collections.abc import Mapping

from jobs.dates.services.action_items import Matter
from quoting.core.life.order_words import decide_words, order_words, short_name


def matter_text(one: Matter, suppliers: Mapping[str, str]) -> str:
    """Verb and thing. suppliers: names by code."""
    need = one.item.need
    if one.late is not None:
        return f"Ask {one.late.coming.line.order.supplier.name} for an earlier day"
    if one.kind == "decide":
        return decide_words(need.name)
    code = need.supplier or ""
    return order_words((need.name,), suppliers.get(code, code), rest=bool(one.part))


def matter_why(one: Matter, *, signed: bool) -> str:
    """What follows, or is known of it; its days in ISO form. signed: whether its job is."""
    goods = ""
    if one.late is not None:
        what = short_name(one.item.need.name)
        goods = f"{what[:1].upper()}{what[1:]}, order {one.late.coming.line.order.number}."
    return " ".join(said for said in (goods, one.why, "" if signed else "Not signed yet.") if said)
