from django.urls import path

from quoting.pricing.pages import rates
from quoting.quotes.pages import approving, cancelling, default_pricing, editor, issuing, revisions

urlpatterns = [
    path("jobs/<int:job_id>/", editor.quote, name="quote"),
    path("jobs/<int:job_id>/start/", editor.quote_start, name="quote_start"),
    path("jobs/<int:job_id>/preview/", editor.quote_preview, name="quote_preview"),
    path("jobs/<int:job_id>/issue/", issuing.quote_issue, name="quote_issue"),
    path("jobs/<int:job_id>/approve/", approving.quote_approve, name="quote_approve"),
    path("jobs/<int:job_id>/compare/", revisions.quote_compare, name="quote_compare"),
    path("jobs/<int:job_id>/revisions/<int:number>/lines.csv", revisions.revision_csv, name="revision_csv"),
    path("jobs/<int:job_id>/revisions/<int:number>/withdraw/", revisions.revision_withdraw, name="revision_withdraw"),
    path("cancellation/", cancelling.cancellation_terms, name="cancellation_terms"),
    path("cancellation/windows/", cancelling.cancellation_term_set, name="cancellation_term_set"),
    path(
        "cancellation/windows/<int:term_id>/remove/",
        cancelling.cancellation_term_remove,
        name="cancellation_term_remove",
    ),
    path("cancellation/holidays/", cancelling.holiday_set, name="holiday_set"),
    path("cancellation/holidays/<int:holiday_id>/remove/", cancelling.holiday_remove, name="holiday_remove"),
    path("usual/", default_pricing.usual_pricing, name="usual_pricing"),
    path("rates/", rates.rates, name="rates"),
    path("rates/tax/", rates.tax_rate_set, name="tax_rate_set"),
    path("rates/tax/<int:rate_id>/remove/", rates.tax_rate_remove, name="tax_rate_remove"),
    path("rates/labour/", rates.labour_rate_set, name="labour_rate_set"),
    path("rates/labour/<int:rate_id>/remove/", rates.labour_rate_remove, name="labour_rate_remove"),
]
