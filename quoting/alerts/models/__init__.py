from quoting.alerts.models.alerts import (
    Alert,
    AlertMail,
    AlertTimes,
    AlertTrouble,
    DeviationAlert,
    MailWish,
    WeeklyMail,
)
from quoting.alerts.models.feeds import EventKind, FeedAddress, FeedEvent

__all__ = [
    "Alert",
    "AlertMail",
    "AlertTimes",
    "AlertTrouble",
    "DeviationAlert",
    "EventKind",
    "FeedAddress",
    "FeedEvent",
    "MailWish",
    "WeeklyMail",
]
