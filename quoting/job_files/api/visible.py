"""What of a result each role sees: the field sees no money and no supplier, the office no margin."""

from rest_framework.request import Request

from quoting.platform.api.base import Document, sees_costs, sees_margins, without


def quote_for(request: Request, quote: Document) -> Document:
    if not sees_costs(request):
        return without(quote, "office")
    if sees_margins(request) or "office" not in quote:
        return quote
    return quote | {"office": without(quote["office"], "margin", "price_by_category", "explanations")}
