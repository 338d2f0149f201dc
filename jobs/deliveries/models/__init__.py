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

__all__ = [
    "ClaimMail",
    "ClaimOutcome",
    "Confirmation",
    "ConfirmedLine",
    "Delivery",
    "ReceiptLine",
    "ReceiptPhoto",
    "ReceivedPiece",
    "ReturnedGoods",
]
