from quoting.payment_requests.api import payments, requests, terms
from quoting.platform.people.access import BUYERS, OWNER, route

OF_A_JOB = "jobs/<str:key>/requests"
ONE = f"{OF_A_JOB}/<int:request_number>"

urlpatterns = [
    route("jobs/<str:key>/payments", payments.Payments, both=BUYERS),
    route("jobs/<str:key>/payments/<int:payment_id>/undo", payments.UndoPayment, POST=BUYERS),
    route(OF_A_JOB, requests.Requests, both=BUYERS),
    route(ONE, requests.OneRequest, GET=BUYERS),
    route(f"{ONE}/credit", requests.CreditRequest, POST=BUYERS),
    route(f"{ONE}/mails", requests.RequestMails, both=BUYERS),
    route(f"{ONE}/paper", requests.RequestPaperState, GET=BUYERS),
    route(f"{ONE}/paper/file", requests.RequestPaperFile, GET=BUYERS),
    route("jobs/<str:key>/events", requests.EventMarks, POST=BUYERS),
    route("jobs/<str:key>/events/<int:mark_id>/undo", requests.TakeMarkBack, POST=BUYERS),
    route("jobs/<str:key>/retention", terms.HeldBack, GET=BUYERS, PUT=OWNER),
    route("clients/<int:client_id>/statement", terms.ClientStatement, GET=BUYERS),
    route("request-terms", terms.Terms, GET=BUYERS, PUT=OWNER),
]
