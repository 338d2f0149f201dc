"""What the office does with what was sent."""

from django.urls import path

from quoting.client.pages import answering, money, notes, revision, sending

urlpatterns = [
    path("quotes/jobs/<int:job_id>/revisions/<int:number>/", revision.revision, name="revision"),
    path("quotes/jobs/<int:job_id>/revisions/<int:number>/send/", sending.revision_send, name="revision_send"),
    path("quotes/jobs/<int:job_id>/revisions/<int:number>/link/", sending.revision_link, name="revision_link"),
    path(
        "quotes/jobs/<int:job_id>/revisions/<int:number>/link/withdraw/",
        sending.revision_link_withdraw,
        name="revision_link_withdraw",
    ),
    path("quotes/jobs/<int:job_id>/revisions/<int:number>/answer/", answering.revision_answer, name="revision_answer"),
    path(
        "quotes/jobs/<int:job_id>/revisions/<int:number>/take-back/",
        answering.revision_take_back,
        name="revision_take_back",
    ),
    path("changes/jobs/<int:job_id>/notes/<int:number>/", notes.change_note, name="change_note"),
    path("changes/jobs/<int:job_id>/notes/<int:number>/answer/", notes.change_answer, name="change_answer"),
    path("changes/jobs/<int:job_id>/notes/<int:number>/send/", notes.change_send, name="change_send"),
    path("changes/jobs/<int:job_id>/notes/<int:number>/withdraw/", notes.change_withdraw, name="change_withdraw"),
    path("jobs/<int:job_id>/payments/", money.payments, name="payments"),
    path("payments/<int:payment_id>/undo/", money.payment_undo, name="payment_undo"),
]
