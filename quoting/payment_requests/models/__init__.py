from quoting.payment_requests.models.events import EventMark, JobRetention
from quoting.payment_requests.models.mails import RequestMail
from quoting.payment_requests.models.received import PaymentReceived
from quoting.payment_requests.models.requests import PaymentRequest, RequestedNote, RequestSequence
from quoting.payment_requests.models.terms import RequestTerms

__all__ = [
    "EventMark",
    "JobRetention",
    "PaymentReceived",
    "PaymentRequest",
    "RequestMail",
    "RequestSequence",
    "RequestTerms",
    "RequestedNote",
]
