from django.urls import path

from quoting.client.pages import changes, page, taking_back

urlpatterns = [
    path("<str:secret>/", page.client_quote, name="client_quote"),
    path("<str:secret>/total/", page.client_total, name="client_total"),
    path("<str:secret>/answer/", page.client_answer, name="client_answer"),
    path("<str:secret>/take-back/", taking_back.client_take_back, name="client_take_back"),
    path("<str:secret>/changes/<int:number>/", changes.client_change, name="client_note"),
    path("<str:secret>/changes/<int:number>/answer/", changes.client_change_answer, name="client_note_answer"),
    path("<str:secret>/changes/<int:number>/note.pdf", changes.client_change_paper, name="client_note_paper"),
    path("<str:secret>/quotation.pdf", page.client_paper, name="client_paper"),
    path("<str:secret>/acceptance.pdf", page.client_certificate, name="client_certificate"),
]
