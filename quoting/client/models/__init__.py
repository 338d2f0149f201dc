from quoting.client.models.answers import AnswerKind, AnswerWay, ClientAnswer
from quoting.client.models.client_links import ClientLink, QuoteMail
from quoting.client.models.received import PaymentReceived
from quoting.client.models.taken_back import TakeBack, TakeBackWay

__all__ = [
    "AnswerKind",
    "AnswerWay",
    "ClientAnswer",
    "ClientLink",
    "PaymentReceived",
    "QuoteMail",
    "TakeBack",
    "TakeBackWay",
]
