from quoting.models.alerts import Alert, AlertMail, AlertTimes, AlertTrouble, MailWish, WeeklyMail
from quoting.models.allowances import AllowanceEntry
from quoting.models.answers import AnswerKind, AnswerWay, ClientAnswer
from quoting.models.approvals import MarginApproval, RevisionApproval
from quoting.models.cancellation import CancellationTerm, Holiday
from quoting.models.changes import (
    ChangeAnswer,
    ChangeDraft,
    ChangeDraftLine,
    ChangeNote,
    ChangeNoteLine,
    ChangeState,
)
from quoting.models.checklist import ChecklistAnswer
from quoting.models.client_links import ClientLink, QuoteMail
from quoting.models.costs import CostEntry
from quoting.models.errands import Errand, ErrandState
from quoting.models.feeds import EventKind, FeedAddress, FeedEvent
from quoting.models.firm_texts import NoticePack, NoticePlace, StandardText, TextLeftOut
from quoting.models.heartbeats import Heartbeat
from quoting.models.options import OptionEntry
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
from quoting.models.received import PaymentReceived
from quoting.models.substitutions import Substitution
from quoting.models.taken_back import TakeBack, TakeBackWay
from quoting.models.tax import LabourRate, TaxRate
from quoting.models.terms import DepositTerm, InstalmentTerm, QuoteText
from quoting.models.tokens import Token

__all__ = [
    "Alert",
    "AlertMail",
    "AlertTimes",
    "AlertTrouble",
    "AllowanceEntry",
    "AnswerKind",
    "AnswerWay",
    "CancellationTerm",
    "ChangeAnswer",
    "ChangeDraft",
    "ChangeDraftLine",
    "ChangeNote",
    "ChangeNoteLine",
    "ChangeState",
    "ChecklistAnswer",
    "ClientAnswer",
    "ClientLink",
    "CostEntry",
    "DepositTerm",
    "Errand",
    "ErrandState",
    "EventKind",
    "FeedAddress",
    "FeedEvent",
    "Heartbeat",
    "Holiday",
    "InstalmentTerm",
    "LabourRate",
    "MailWish",
    "MarginApproval",
    "NoticePack",
    "NoticePlace",
    "OptionEntry",
    "Paper",
    "PaperKind",
    "PaymentReceived",
    "Person",
    "Pricing",
    "Quote",
    "QuoteInstalment",
    "QuoteLine",
    "QuoteMail",
    "QuoteRevision",
    "QuoteSequence",
    "QuoteText",
    "RevisionApproval",
    "RevisionState",
    "Role",
    "StandardText",
    "Substitution",
    "TakeBack",
    "TakeBackWay",
    "TaxRate",
    "TextLeftOut",
    "Token",
    "WeeklyMail",
]
