from quoting.platform.people.access import DESK, PRICERS, route
from quoting.quotes.pages import approving, cancelling, default_pricing, editor, holidays, revisions

urlpatterns = [
    route("jobs/<int:job_id>/price/", editor.quote, GET=DESK, POST=PRICERS),
    route("jobs/<int:job_id>/price/start/", editor.quote_start, POST=PRICERS),
    route("jobs/<int:job_id>/price/preview/", editor.quote_preview, POST=PRICERS),
    route("jobs/<int:job_id>/price/approve/", approving.quote_approve, both=PRICERS),
    route("jobs/<int:job_id>/price/compare/", revisions.quote_compare, GET=DESK),
    route("jobs/<int:job_id>/price/revisions/<int:number>/lines.csv", revisions.revision_csv, GET=DESK),
    route(
        "jobs/<int:job_id>/price/revisions/<int:number>/withdraw/",
        revisions.revision_withdraw,
        POST=PRICERS,
    ),
    route("firm/cancellation/", cancelling.cancellation_terms, both=PRICERS),
    route(
        "firm/cancellation/windows/<int:term_id>/remove/",
        cancelling.cancellation_term_remove,
        POST=PRICERS,
    ),
    route("firm/holidays/", holidays.holidays, GET=DESK),
    route("firm/holidays/closed/", holidays.firm_closure_add, POST=DESK),
    route(
        "firm/holidays/closed/<int:closure_id>/remove/",
        holidays.firm_closure_remove,
        POST=DESK,
    ),
    route("firm/holidays/public/", holidays.holiday_set, POST=PRICERS),
    route("firm/holidays/public/<int:holiday_id>/remove/", holidays.holiday_remove, POST=PRICERS),
    route("firm/usual-pricing/", default_pricing.usual_pricing, both=PRICERS),
]
