from quoting.client.pages import answering, changes, look_and_send, notes, page, posted, questions, revision, sending
from quoting.platform.people.access import CLIENT, DESK, PRICERS, route

urlpatterns = [
    route("jobs/<int:job_id>/price/send/", look_and_send.quote_issue, both=PRICERS),
    route("jobs/<int:job_id>/price/send/first-page/", look_and_send.quote_first_page, GET=PRICERS),
    route("jobs/<int:job_id>/questions/", questions.questions, GET=DESK),
    route("questions/<int:question_id>/answered/", questions.question_close, POST=DESK),
    route("q/<str:secret>/question/", posted.client_ask, POST=CLIENT),
    route("q/<str:secret>/finish/", posted.client_finish, POST=CLIENT),
    route("q/<str:secret>/finish/<int:photo_id>/", posted.client_finish_photo, GET=CLIENT),
    route("jobs/<int:job_id>/price/revisions/<int:number>/", revision.revision, GET=DESK),
    route("jobs/<int:job_id>/price/revisions/<int:number>/send/", sending.revision_send, POST=DESK),
    route("jobs/<int:job_id>/price/revisions/<int:number>/link/", sending.revision_link, POST=DESK),
    route("jobs/<int:job_id>/price/revisions/<int:number>/link/withdraw/", sending.revision_link_withdraw, POST=DESK),
    route("jobs/<int:job_id>/price/revisions/<int:number>/answer/", answering.revision_answer, POST=DESK),
    route("jobs/<int:job_id>/price/revisions/<int:number>/take-back/", answering.revision_take_back, POST=DESK),
    route("jobs/<int:job_id>/price/changes/notes/<int:number>/", notes.change_note, GET=DESK),
    route("jobs/<int:job_id>/price/changes/notes/<int:number>/answer/", notes.change_answer, POST=DESK),
    route("jobs/<int:job_id>/price/changes/notes/<int:number>/send/", notes.change_send, POST=DESK),
    route("jobs/<int:job_id>/price/changes/notes/<int:number>/withdraw/", notes.change_withdraw, POST=PRICERS),
    route("q/<str:secret>/", page.client_quote, GET=CLIENT),
    route("q/<str:secret>/plan/", page.client_work, GET=CLIENT),
    route("q/<str:secret>/total/", page.client_total, GET=CLIENT),
    route("q/<str:secret>/answer/", page.client_answer, POST=CLIENT),
    route("q/<str:secret>/opened/", posted.client_opened, POST=CLIENT),
    route("q/<str:secret>/take-back/", posted.client_take_back, POST=CLIENT),
    route("q/<str:secret>/changes/<int:number>/", changes.client_change, "client_note", GET=CLIENT),
    route(
        "q/<str:secret>/changes/<int:number>/answer/", changes.client_change_answer, "client_note_answer", POST=CLIENT
    ),
    route("q/<str:secret>/changes/<int:number>/note.pdf", changes.client_change_paper, "client_note_paper", GET=CLIENT),
    route("q/<str:secret>/requests/<int:number>.pdf", page.client_request, GET=CLIENT),
    route("q/<str:secret>/quotation.pdf", page.client_paper, GET=CLIENT),
    route("q/<str:secret>/acceptance.pdf", page.client_certificate, GET=CLIENT),
]
