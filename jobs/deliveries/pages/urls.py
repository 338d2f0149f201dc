from jobs.deliveries.pages import claims, confirming, delivery, deviations, letters, lines, pages, planned, returns
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("catalog/materials/<int:material_id>/planned/", planned.planned_accept, "planned_accept", POST=DESK),
    route("catalog/materials/<int:material_id>/planned/end/", planned.planned_end, "planned_end", POST=DESK),
    route("receiving/", pages.receiving, "receiving", GET=STAFF),
    route("buying/received/", pages.receiving, "received", GET=DESK),
    route("receiving/orders/<int:order_id>/", pages.check_in, "check_in", both=STAFF),
    route("receiving/deliveries/<int:delivery_id>/", delivery.delivery, "delivery", both=STAFF),
    route("receiving/photos/<int:photo_id>/", delivery.receipt_photo, "receipt_photo", GET=STAFF),
    route("buying/orders/claims/", claims.claims, "claims", GET=DESK),
    route("buying/orders/receipts/<int:receipt_id>/", claims.receipt, "receipt", GET=DESK),
    route("buying/orders/receipts/<int:receipt_id>/claim/", claims.receipt_claim, "receipt_claim", POST=DESK),
    route("buying/orders/receipts/<int:receipt_id>/letter/", letters.receipt_letter, "receipt_letter", POST=DESK),
    route("buying/orders/receipts/<int:receipt_id>/send/", letters.receipt_send, "receipt_send", POST=DESK),
    route("buying/orders/receipts/<int:receipt_id>/outcome/", claims.receipt_outcome, "receipt_outcome", both=DESK),
    route("buying/orders/receipts/<int:receipt_id>/correct/", claims.receipt_correct, "receipt_correct", both=DESK),
    route("buying/orders/receipts/<int:receipt_id>/replace/", claims.receipt_replace, "receipt_replace", POST=DESK),
    route("buying/orders/lines/<int:line_id>/promises/", lines.promises, "promises", both=DESK),
    route("buying/orders/lines/<int:line_id>/settle/", deviations.line_settle, "line_settle", both=DESK),
    route("buying/orders/lines/<int:line_id>/end/", lines.line_end, "line_end", both=DESK),
    route("buying/orders/lines/<int:line_id>/send-back/", returns.return_add, "return_add", both=DESK),
    route("buying/orders/returns/", returns.returns, "returns", GET=DESK),
    route("buying/orders/returns/<int:return_id>/credit/", returns.return_credit, "return_credit", both=DESK),
    route("buying/orders/<int:order_id>/confirmation/", confirming.confirmation_add, "confirmation_add", both=DESK),
    route(
        "buying/orders/confirmed/<int:confirmed_id>/settle/", confirming.confirmed_settle, "confirmed_settle", both=DESK
    ),
    route("buying/orders/<int:order_id>/call-off/", lines.order_call_off, "order_call_off", both=DESK),
]
