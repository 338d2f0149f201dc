from quoting.payment_requests.pages import asking, payments, request, since_signed, statement, terms
from quoting.platform.people.access import BUYERS, OWNER, route

urlpatterns = [
    route("jobs/<int:job_id>/price/since-signed/", since_signed.since_signed, GET=BUYERS),
    route("jobs/<int:job_id>/price/events/mark/", asking.event_mark, both=BUYERS),
    route("jobs/<int:job_id>/price/requests/issue/", asking.request_issue, both=BUYERS),
    route("jobs/<int:job_id>/price/requests/<int:number>/", request.payment_request, GET=BUYERS),
    route("jobs/<int:job_id>/price/requests/<int:number>/send/", request.request_send, POST=BUYERS),
    route("jobs/<int:job_id>/price/requests/<int:number>/credit/", asking.request_credit, both=BUYERS),
    route("jobs/<int:job_id>/price/held-back/", terms.job_retention, both=OWNER),
    route("jobs/<int:job_id>/price/payments/", payments.payments, both=BUYERS),
    route("jobs/clients/<int:client_id>/statement/", statement.client_statement, GET=BUYERS),
    route("jobs/clients/<int:client_id>/statement/paper/", statement.client_statement_paper, POST=BUYERS),
    route("payments/<int:payment_id>/undo/", payments.payment_undo, both=BUYERS),
    route("payments/events/<int:mark_id>/undo/", asking.event_mark_undo, both=BUYERS),
    route("firm/payment/", terms.request_terms, both=OWNER),
]
