from quoting.platform.people.access import DESK, PRICERS, route
from quoting.quotes.pages import approving, cancelling, default_pricing, editor, issuing, revision, sending, taking_back

urlpatterns = [
    route("quotes/jobs/<int:job_id>/", editor.quote, "quote", GET=DESK, POST=PRICERS),
    route("quotes/jobs/<int:job_id>/start/", editor.quote_start, "quote_start", POST=PRICERS),
    route("quotes/jobs/<int:job_id>/preview/", editor.quote_preview, "quote_preview", POST=PRICERS),
    route("quotes/jobs/<int:job_id>/issue/", issuing.quote_issue, "quote_issue", both=PRICERS),
    route("quotes/jobs/<int:job_id>/approve/", approving.quote_approve, "quote_approve", both=PRICERS),
    route("quotes/jobs/<int:job_id>/compare/", issuing.quote_compare, "quote_compare", GET=DESK),
    route("quotes/jobs/<int:job_id>/revisions/<int:number>/", revision.revision, "revision", GET=DESK),
    route("quotes/jobs/<int:job_id>/revisions/<int:number>/lines.csv", revision.revision_csv, "revision_csv", GET=DESK),
    route(
        "quotes/jobs/<int:job_id>/revisions/<int:number>/withdraw/",
        issuing.revision_withdraw,
        "revision_withdraw",
        POST=PRICERS,
    ),
    route("quotes/jobs/<int:job_id>/revisions/<int:number>/send/", sending.revision_send, "revision_send", POST=DESK),
    route("quotes/jobs/<int:job_id>/revisions/<int:number>/link/", sending.revision_link, "revision_link", POST=DESK),
    route(
        "quotes/jobs/<int:job_id>/revisions/<int:number>/link/withdraw/",
        sending.revision_link_withdraw,
        "revision_link_withdraw",
        POST=DESK,
    ),
    route(
        "quotes/jobs/<int:job_id>/revisions/<int:number>/answer/", sending.revision_answer, "revision_answer", POST=DESK
    ),
    route(
        "quotes/jobs/<int:job_id>/revisions/<int:number>/take-back/",
        taking_back.revision_take_back,
        "revision_take_back",
        POST=DESK,
    ),
    route("quotes/cancellation/", cancelling.cancellation_terms, "cancellation_terms", GET=PRICERS),
    route("quotes/cancellation/windows/", cancelling.cancellation_term_set, "cancellation_term_set", POST=PRICERS),
    route(
        "quotes/cancellation/windows/<int:term_id>/remove/",
        cancelling.cancellation_term_remove,
        "cancellation_term_remove",
        POST=PRICERS,
    ),
    route("quotes/cancellation/holidays/", cancelling.holiday_set, "holiday_set", POST=PRICERS),
    route(
        "quotes/cancellation/holidays/<int:holiday_id>/remove/",
        cancelling.holiday_remove,
        "holiday_remove",
        POST=PRICERS,
    ),
    route("quotes/usual/", default_pricing.usual_pricing, "usual_pricing", both=PRICERS),
]
