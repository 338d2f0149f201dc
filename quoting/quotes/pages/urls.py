from quoting.platform.people.access import DESK, PRICERS, route
from quoting.quotes.pages import approving, cancelling, default_pricing, editor, issuing, revisions

urlpatterns = [
    route("jobs/<int:job_id>/price/", editor.quote, "quote", GET=DESK, POST=PRICERS),
    route("jobs/<int:job_id>/price/start/", editor.quote_start, "quote_start", POST=PRICERS),
    route("jobs/<int:job_id>/price/preview/", editor.quote_preview, "quote_preview", POST=PRICERS),
    route("jobs/<int:job_id>/price/issue/", issuing.quote_issue, "quote_issue", both=PRICERS),
    route("jobs/<int:job_id>/price/approve/", approving.quote_approve, "quote_approve", both=PRICERS),
    route("jobs/<int:job_id>/price/compare/", revisions.quote_compare, "quote_compare", GET=DESK),
    route("jobs/<int:job_id>/price/revisions/<int:number>/lines.csv", revisions.revision_csv, "revision_csv", GET=DESK),
    route(
        "jobs/<int:job_id>/price/revisions/<int:number>/withdraw/",
        revisions.revision_withdraw,
        "revision_withdraw",
        POST=PRICERS,
    ),
    route("firm/cancellation/", cancelling.cancellation_terms, "cancellation_terms", GET=PRICERS),
    route("firm/cancellation/windows/", cancelling.cancellation_term_set, "cancellation_term_set", POST=PRICERS),
    route(
        "firm/cancellation/windows/<int:term_id>/remove/",
        cancelling.cancellation_term_remove,
        "cancellation_term_remove",
        POST=PRICERS,
    ),
    route("firm/cancellation/holidays/", cancelling.holiday_set, "holiday_set", POST=PRICERS),
    route(
        "firm/cancellation/holidays/<int:holiday_id>/remove/",
        cancelling.holiday_remove,
        "holiday_remove",
        POST=PRICERS,
    ),
    route("firm/usual-pricing/", default_pricing.usual_pricing, "usual_pricing", both=PRICERS),
]
