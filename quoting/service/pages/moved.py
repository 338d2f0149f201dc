"""Where pages stood before each had its room: whoever comes by an old address is led to the new one for good."""

from urllib.parse import quote

from django.http import HttpRequest, HttpResponsePermanentRedirect
from django.urls import URLPattern

from quoting.platform.people.access import STAFF, route

# The old beginning of an address, and the new one; what follows it stays as it was. The first that fits is taken.
MOVED: tuple[tuple[str, str], ...] = (
    ("quotes/jobs/<int:job>/", "jobs/{job}/price/"),
    ("changes/jobs/<int:job>/", "jobs/{job}/price/changes/"),
    ("jobs/<int:job>/price/issue/", "jobs/{job}/price/send/"),
    ("jobs/<int:job>/payments/", "jobs/{job}/price/payments/"),
    ("order-dates/jobs/<int:job>/", "jobs/{job}/buying/"),
    ("jobs/<int:job>/to-order/", "jobs/{job}/buying/items/"),
    ("jobs/<int:job>/items/", "jobs/{job}/buying/other-items/"),
    ("jobs/<int:job>/substitutions/", "jobs/{job}/buying/substitutions/"),
    ("site/jobs/<int:job>/", "jobs/{job}/site/"),
    ("jobs/<int:job>/dates/", "jobs/{job}/site/days/"),
    ("jobs/<int:job>/activities/", "jobs/{job}/site/days/"),
    ("jobs/<int:job>/site/activities/", "jobs/{job}/site/days/"),
    ("jobs/<int:job>/people/", "jobs/{job}/site/people/"),
    ("jobs/<int:job>/chance/", "jobs/{job}/site/chance/"),
    ("history/jobs/<int:job>/", "jobs/{job}/history/"),
    ("order-dates/", "buying/to-order/"),
    ("orders/from/", "buying/from/"),
    ("orders/<int:order>/", "buying/orders/{order}/"),
    ("orders/claims/", "buying/orders/claims/"),
    ("orders/returns/", "buying/orders/returns/"),
    ("orders/receipts/", "buying/orders/receipts/"),
    ("orders/lines/", "buying/orders/lines/"),
    ("orders/confirmed/", "buying/orders/confirmed/"),
    ("orders/", "buying/on-the-way/"),
    ("stock/", "buying/stock/"),
    ("catalog/suppliers/", "buying/suppliers/"),
    ("clients/", "jobs/clients/"),
    ("texts/", "firm/words/"),
    ("catalog/firm/", "firm/"),
    ("quotes/cancellation/", "firm/cancellation/"),
    ("quotes/usual/", "firm/usual-pricing/"),
    ("quotes/rates/", "firm/rates/"),
    ("people/", "firm/people/"),
)


def moved(request: HttpRequest, new: str, rest: str = "", **parts: int) -> HttpResponsePermanentRedirect:
    wanted = request.META.get("QUERY_STRING", "")
    address = f"/{new.format(**parts)}{quote(rest, safe='/')}"
    return HttpResponsePermanentRedirect(f"{address}?{wanted}" if wanted else address)


def moved_routes() -> list[URLPattern]:
    routes = []
    for number, (old, new) in enumerate(MOVED):
        for name, address in ((f"moved_{number}", old), (f"moved_within_{number}", f"{old}<path:rest>")):
            entry = route(address, moved, name, GET=STAFF)
            entry.default_args = {"new": new}
            routes.append(entry)
    return routes
