from quoting.quotes.models.approvals import MarginApproval, RevisionApproval
from quoting.quotes.models.cancellation import CancellationTerm, Holiday
from quoting.quotes.models.quotes import Quote, QuoteInstalment, QuoteLine, QuoteRevision, QuoteSequence, RevisionState

__all__ = [
    "CancellationTerm",
    "Holiday",
    "MarginApproval",
    "Quote",
    "QuoteInstalment",
    "QuoteLine",
    "QuoteRevision",
    "QuoteSequence",
    "RevisionApproval",
    "RevisionState",
]
