from quoting.quotes.models.answers import AnswerKind, ClientAnswer
from quoting.quotes.models.approvals import RevisionApproval
from quoting.quotes.models.bases import AnswerWay
from quoting.quotes.models.cancellation import CancellationTerm, Holiday
from quoting.quotes.models.quotes import Quote, QuoteInstalment, QuoteLine, QuoteRevision, QuoteSequence, RevisionState
from quoting.quotes.models.stored_prices import StoredPrice
from quoting.quotes.models.taken_back import TakeBack, TakeBackWay

__all__ = [
    "AnswerKind",
    "AnswerWay",
    "CancellationTerm",
    "ClientAnswer",
    "Holiday",
    "Quote",
    "QuoteInstalment",
    "QuoteLine",
    "QuoteRevision",
    "QuoteSequence",
    "RevisionApproval",
    "RevisionState",
    "StoredPrice",
    "TakeBack",
    "TakeBackWay",
]
