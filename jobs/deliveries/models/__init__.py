from jobs.deliveries.models.claim_mails import ClaimMail
from jobs.deliveries.models.confirmations import Confirmation, ConfirmedLine
from jobs.deliveries.models.deliveries import (
    ClaimOutcome,
    Delivery,
    ReceiptLine,
    ReceiptPhoto,
    ReceivedPiece,
    ReturnedGoods,
)
from jobs.deliveries.models.earlier_leads import EarlierLead
from jobs.deliveries.models.settlements import SettledDeviation, Settlement

__all__ = [
    "ClaimMail",
    "ClaimOutcome",
    "Confirmation",
    "ConfirmedLine",
    "Delivery",
    "EarlierLead",
    "ReceiptLine",
    "ReceiptPhoto",
    "ReceivedPiece",
    "ReturnedGoods",
    "SettledDeviation",
    "Settlement",
]
