from quoting.payment_requests.api import payments, requests, terms
from quoting.platform.people.access import BUYERS, OWNER, route

OF_A_JOB = "jobs/<str:key>/requests"
ONE = f"{OF_A_JOB}/<int:request_number>"

urlpatterns = [
    route("jobs/<str:key>/payments", payments.Payments.as_view(), "api_payments", both=BUYERS),
    route(
        "jobs/<str:key>/payments/<int:payment_id>/undo", payments.UndoPayment.as_view(), "api_payment_undo", POST=BUYERS
    ),
    route(OF_A_JOB, requests.Requests.as_view(), "api_requests", both=BUYERS),
    route(ONE, requests.OneRequest.as_view(), "api_request", GET=BUYERS),
    route(f"{ONE}/credit", requests.CreditRequest.as_view(), "api_request_credit", POST=BUYERS),
    route(f"{ONE}/mails", requests.RequestMails.as_view(), "api_request_mails", both=BUYERS),
    route(f"{ONE}/paper", requests.RequestPaperState.as_view(), "api_request_paper", GET=BUYERS),
    route(f"{ONE}/paper/file", requests.RequestPaperFile.as_view(), "api_request_paper_file", GET=BUYERS),
    route("jobs/<str:key>/events", requests.EventMarks.as_view(), "api_event_marks", POST=BUYERS),
    route(
        "jobs/<str:key>/events/<int:mark_id>/undo", requests.TakeMarkBack.as_view(), "api_event_mark_undo", POST=BUYERS
    ),
    route("jobs/<str:key>/retention", terms.HeldBack.as_view(), "api_retention", GET=BUYERS, PUT=OWNER),
    route("clients/<int:client_id>/statement", terms.ClientStatement.as_view(), "api_statement", GET=BUYERS),
    route("request-terms", terms.Terms.as_view(), "api_request_terms", GET=BUYERS, PUT=OWNER),
]
