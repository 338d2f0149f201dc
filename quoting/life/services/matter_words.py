"""What is to be done about an item, in the words of Today and of mails."""

from collections.abc import Mapping

from jobs.dates.services.action_items import Matter
from quoting.core.life.order_words import decide_words, order_words, short_name


def matter_text(matter: Matter, suppliers: Mapping[str, str]) -> str:
    """Verb and thing. suppliers: names by code."""
    need = matter.item.need
    if matter.late is not None:
        return f"Ask {matter.late.coming.line.order.supplier.name} for an earlier day"
    if matter.kind == "decide":
        return decide_words(need.name)
    code = need.supplier or ""
    return order_words((need.name,), suppliers.get(code, code), rest=bool(matter.part))


def matter_why(matter: Matter, *, signed: bool) -> str:
    """What follows, or is known of it; its days in ISO form. signed: whether its job is."""
    goods = ""
    if matter.late is not None:
        what = short_name(matter.item.need.name)
        goods = f"{what[:1].upper()}{what[1:]}, order {matter.late.coming.line.order.number}."
    return " ".join(text for text in (goods, matter.why, "" if signed else "Not signed yet.") if text)
