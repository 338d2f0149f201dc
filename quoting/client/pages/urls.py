from quoting.client.pages import changes, money, page, taking_back
from quoting.platform.people.access import CLIENT, DESK, route

urlpatterns = [
    route("jobs/<int:job_id>/payments/", money.payments, "payments", both=DESK),
    route("payments/<int:payment_id>/undo/", money.payment_undo, "payment_undo", both=DESK),
    route("q/<str:secret>/", page.client_quote, "client_quote", GET=CLIENT),
    route("q/<str:secret>/total/", page.client_total, "client_total", GET=CLIENT),
    route("q/<str:secret>/answer/", page.client_answer, "client_answer", POST=CLIENT),
    route("q/<str:secret>/take-back/", taking_back.client_take_back, "client_take_back", POST=CLIENT),
    route("q/<str:secret>/changes/<int:number>/", changes.client_change, "client_note", GET=CLIENT),
    route(
        "q/<str:secret>/changes/<int:number>/answer/", changes.client_change_answer, "client_note_answer", POST=CLIENT
    ),
    route("q/<str:secret>/changes/<int:number>/note.pdf", changes.client_change_paper, "client_note_paper", GET=CLIENT),
    route("q/<str:secret>/quotation.pdf", page.client_paper, "client_paper", GET=CLIENT),
    route("q/<str:secret>/acceptance.pdf", page.client_certificate, "client_certificate", GET=CLIENT),
]
