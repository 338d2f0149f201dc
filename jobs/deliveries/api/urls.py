from jobs.deliveries.api import (
    claim_letters,
    confirmations,
    deviations,
    lead_record,
    order_events,
    receipt_photos,
    receipts,
    receiving,
)
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("receiving", receiving.Due.as_view(), "api_receiving", GET=STAFF),
    route("receiving/claims", receipts.Claims.as_view(), "api_claims", GET=DESK),
    route("receiving/receipts/<int:receipt_id>", receipts.OneReceipt.as_view(), "api_receipt", GET=DESK, PUT=DESK),
    route(
        "receiving/receipts/<int:receipt_id>/photos",
        receipt_photos.ReceiptPhotos.as_view(),
        "api_receipt_photos",
        both=STAFF,
    ),
    route("receiving/photos/<int:photo_id>", receipt_photos.ReceiptPhotoFile.as_view(), "api_receipt_photo", GET=STAFF),
    route("receiving/receipts/<int:receipt_id>/claim", receipts.ClaimReceipt.as_view(), "api_receipt_claim", POST=DESK),
    route(
        "receiving/receipts/<int:receipt_id>/letter",
        claim_letters.ClaimLetter.as_view(),
        "api_claim_letter",
        both=DESK,
    ),
    route(
        "receiving/receipts/<int:receipt_id>/letter/file",
        claim_letters.ClaimLetterFile.as_view(),
        "api_claim_letter_file",
        GET=DESK,
    ),
    route(
        "receiving/receipts/<int:receipt_id>/mails", claim_letters.ClaimMails.as_view(), "api_claim_mails", both=DESK
    ),
    route(
        "receiving/receipts/<int:receipt_id>/outcome",
        receipts.SettleReceipt.as_view(),
        "api_receipt_outcome",
        POST=DESK,
    ),
    route(
        "receiving/receipts/<int:receipt_id>/replacement",
        receipts.ReplaceReceipt.as_view(),
        "api_receipt_replacement",
        both=DESK,
    ),
    route("orders/<str:number>/deliveries", receiving.OrderDeliveries.as_view(), "api_deliveries", both=STAFF),
    route("orders/<str:number>/confirmations", confirmations.Confirmations.as_view(), "api_confirmations", both=DESK),
    route(
        "orders/<str:number>/confirmations/<int:confirmed_id>/settle",
        confirmations.SettleConfirmed.as_view(),
        "api_confirmed_settle",
        POST=DESK,
    ),
    route("deviations", deviations.Deviations.as_view(), "api_all_deviations", GET=DESK),
    route("orders/<str:number>/deviations", deviations.OrderDeviations.as_view(), "api_deviations", GET=DESK),
    route(
        "orders/<str:number>/lines/<int:place>/settle",
        deviations.SettleDeviation.as_view(),
        "api_deviation_settle",
        POST=DESK,
    ),
    route("orders/<str:number>/lines/<int:place>/promises", order_events.Promises.as_view(), "api_promises", both=DESK),
    route("orders/<str:number>/lines/<int:place>/end", order_events.EndLine.as_view(), "api_line_end", POST=DESK),
    route(
        "orders/<str:number>/lines/<int:place>/returns",
        order_events.LineReturns.as_view(),
        "api_line_returns",
        POST=DESK,
    ),
    route("orders/<str:number>/call-off", order_events.CallOff.as_view(), "api_call_off", POST=DESK),
    route("orders/<str:number>/returns", order_events.Returns.as_view(), "api_returns", GET=DESK),
    route(
        "orders/<str:number>/returns/<int:return_id>/credit",
        order_events.CreditReturn.as_view(),
        "api_return_credit",
        POST=DESK,
    ),
    route(
        "catalog/lead-records/<path:code>",
        lead_record.LeadRecord.as_view(),
        "api_lead_record",
        GET=DESK,
        PUT=DESK,
        DELETE=DESK,
    ),
    route("catalog/supplier-scores/<path:code>", lead_record.ScoreOfSupplier.as_view(), "api_supplier_score", GET=DESK),
]
