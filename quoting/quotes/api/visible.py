"""What of a result each role sees: the field sees no money and no supplier, the office no margin."""

from rest_framework.request import Request

from quoting.platform.api.base import Document, sees_costs, sees_margins, without


def quote_for(request: Request, quote: Document) -> Document:
    if not sees_costs(request):
        return without(quote, "office")
    if sees_margins(request) or "office" not in quote:
        return quote
    return quote | {"office": without(quote["office"], "margin", "price_by_category", "explanations")}


def builds_for(request: Request, compared: Document) -> Document:
    """Of prices, those who do not make them see costs only."""
    if sees_margins(request):
        return compared
    present, builds = compared["present"], compared["builds"]
    return compared | {
        "present": without(present, "price", "total"),
        "builds": [without(one, "price", "total") for one in builds],
    }


def field_check_for(request: Request, check: Document) -> Document:
    """Materials' costs are the desk's, prices theirs who make them; the lead sees what moves and no money."""
    if sees_margins(request):
        return check
    check = without(check, "price", "price_missing", "price_held")
    if sees_costs(request):
        return check
    moved = [one for one in check["purchases"] if one["quoted"] != one["confirmed"]]
    purchases = [without(one, "quoted_cost", "confirmed_cost") for one in moved]
    return without(check, "material_cost", "currency") | {"purchases": purchases}
