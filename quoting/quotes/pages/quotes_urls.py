from django.urls import path

from quoting.pricing.pages import rates
from quoting.quotes.pages import (
    approving,
    cancelling,
    default_pricing,
    editor,
    issuing,
    revision,
    sending,
    taking_back,
)

urlpatterns = [
    path("jobs/<int:job_id>/", editor.quote, name="quote"),
    path("jobs/<int:job_id>/start/", editor.quote_start, name="quote_start"),
    path("jobs/<int:job_id>/preview/", editor.quote_preview, name="quote_preview"),
    path("jobs/<int:job_id>/issue/", issuing.quote_issue, name="quote_issue"),
    path("jobs/<int:job_id>/approve/", approving.quote_approve, name="quote_approve"),
    path("jobs/<int:job_id>/compare/", issuing.quote_compare, name="quote_compare"),
    path("jobs/<int:job_id>/revisions/<int:number>/", revision.revision, name="revision"),
    path("jobs/<int:job_id>/revisions/<int:number>/lines.csv", revision.revision_csv, name="revision_csv"),
    path("jobs/<int:job_id>/revisions/<int:number>/withdraw/", issuing.revision_withdraw, name="revision_withdraw"),
    path("jobs/<int:job_id>/revisions/<int:number>/send/", sending.revision_send, name="revision_send"),
    path("jobs/<int:job_id>/revisions/<int:number>/link/", sending.revision_link, name="revision_link"),
    path(
        "jobs/<int:job_id>/revisions/<int:number>/link/withdraw/",
        sending.revision_link_withdraw,
        name="revision_link_withdraw",
    ),
    path("jobs/<int:job_id>/revisions/<int:number>/answer/", sending.revision_answer, name="revision_answer"),
    path(
        "jobs/<int:job_id>/revisions/<int:number>/take-back/",
        taking_back.revision_take_back,
        name="revision_take_back",
    ),
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
