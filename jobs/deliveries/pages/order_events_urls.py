from django.urls import path

from jobs.deliveries.pages import claims, confirming, lines, returns

urlpatterns = [
    path("orders/claims/", claims.claims, name="claims"),
    path("orders/receipts/<int:receipt_id>/", claims.receipt, name="receipt"),
    path("orders/receipts/<int:receipt_id>/claim/", claims.receipt_claim, name="receipt_claim"),
    path("orders/receipts/<int:receipt_id>/outcome/", claims.receipt_outcome, name="receipt_outcome"),
    path("orders/receipts/<int:receipt_id>/correct/", claims.receipt_correct, name="receipt_correct"),
    path("orders/receipts/<int:receipt_id>/replace/", claims.receipt_replace, name="receipt_replace"),
    path("orders/lines/<int:line_id>/promises/", lines.promises, name="promises"),
    path("orders/lines/<int:line_id>/end/", lines.line_end, name="line_end"),
    path("orders/lines/<int:line_id>/send-back/", returns.return_add, name="return_add"),
    path("orders/returns/", returns.returns, name="returns"),
    path("orders/returns/<int:return_id>/credit/", returns.return_credit, name="return_credit"),
    path("orders/<int:order_id>/confirmation/", confirming.confirmation_add, name="confirmation_add"),
    path("orders/confirmed/<int:confirmed_id>/settle/", confirming.confirmed_settle, name="confirmed_settle"),
    path("orders/<int:order_id>/call-off/", lines.order_call_off, name="order_call_off"),
]
