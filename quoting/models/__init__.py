from quoting.models.answers import AnswerKind, AnswerWay, ClientAnswer
from quoting.models.cancellation import CancellationTerm, Holiday
from quoting.models.changes import (
    ChangeAnswer,
    ChangeDraft,
    ChangeDraftLine,
    ChangeNote,
    ChangeNoteLine,
    ChangeState,
)
from quoting.models.client_links import ClientLink, QuoteMail
from quoting.models.costs import CostEntry
from quoting.models.errands import Errand, ErrandState
from quoting.models.firm_texts import NoticePack, NoticePlace, StandardText, TextLeftOut
from quoting.models.heartbeats import Heartbeat
from quoting.models.papers import Paper, PaperKind
from quoting.models.people import Person, Role
from quoting.models.pricing import Pricing
from quoting.models.quotes import (
    Quote,
    QuoteInstalment,
    QuoteLine,
    QuoteRevision,
    QuoteSequence,
    RevisionState,
)
from quoting.models.tax import LabourRate, TaxRate
from quoting.models.terms import DepositTerm, InstalmentTerm, QuoteText
from quoting.models.tokens import Token

__all__ = [
    "AnswerKind",
    "AnswerWay",
    "CancellationTerm",
    "ChangeAnswer",
    "ChangeDraft",
    "ChangeDraftLine",
    "ChangeNote",
    "ChangeNoteLine",
    "ChangeState",
    "ClientAnswer",
    "ClientLink",
    "CostEntry",
    "DepositTerm",
    "Errand",
    "ErrandState",
    "Heartbeat",
    "Holiday",
    "InstalmentTerm",
    "LabourRate",
    "NoticePack",
    "NoticePlace",
    "Paper",
    "PaperKind",
    "Person",
    "Pricing",
    "Quote",
    "QuoteInstalment",
    "QuoteLine",
    "QuoteMail",
    "QuoteRevision",
    "QuoteSequence",
    "QuoteText",
    "RevisionState",
    "Role",
    "StandardText",
    "TaxRate",
    "TextLeftOut",
    "Token",
]
