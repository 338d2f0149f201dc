from quoting.client.pages import answering, changes, notes, opening, page, requests, revision, sending, taking_back
from quoting.platform.people.access import CLIENT, DESK, PRICERS, route

urlpatterns = [
    route("jobs/<int:job_id>/price/revisions/<int:number>/", revision.revision, "revision", GET=DESK),
    route("jobs/<int:job_id>/price/revisions/<int:number>/send/", sending.revision_send, "revision_send", POST=DESK),
    route("jobs/<int:job_id>/price/revisions/<int:number>/link/", sending.revision_link, "revision_link", POST=DESK),
    route(
        "jobs/<int:job_id>/price/revisions/<int:number>/link/withdraw/",
        sending.revision_link_withdraw,
        "revision_link_withdraw",
        POST=DESK,
    ),
    route(
        "jobs/<int:job_id>/price/revisions/<int:number>/answer/",
        answering.revision_answer,
        "revision_answer",
        POST=DESK,
    ),
    route(
        "jobs/<int:job_id>/price/revisions/<int:number>/take-back/",
        answering.revision_take_back,
        "revision_take_back",
        POST=DESK,
    ),
    route("jobs/<int:job_id>/price/changes/notes/<int:number>/", notes.change_note, "change_note", GET=DESK),
    route(
        "jobs/<int:job_id>/price/changes/notes/<int:number>/answer/", notes.change_answer, "change_answer", POST=DESK
    ),
    route("jobs/<int:job_id>/price/changes/notes/<int:number>/send/", notes.change_send, "change_send", POST=DESK),
    route(
        "jobs/<int:job_id>/price/changes/notes/<int:number>/withdraw/",
        notes.change_withdraw,
        "change_withdraw",
        POST=PRICERS,
    ),
    route("q/<str:secret>/", page.client_quote, "client_quote", GET=CLIENT),
    route("q/<str:secret>/total/", page.client_total, "client_total", GET=CLIENT),
    route("q/<str:secret>/answer/", page.client_answer, "client_answer", POST=CLIENT),
    route("q/<str:secret>/opened/", opening.client_opened, "client_opened", POST=CLIENT),
    route("q/<str:secret>/take-back/", taking_back.client_take_back, "client_take_back", POST=CLIENT),
    route("q/<str:secret>/changes/<int:number>/", changes.client_change, "client_note", GET=CLIENT),
    route(
        "q/<str:secret>/changes/<int:number>/answer/", changes.client_change_answer, "client_note_answer", POST=CLIENT
    ),
    route("q/<str:secret>/changes/<int:number>/note.pdf", changes.client_change_paper, "client_note_paper", GET=CLIENT),
    route("q/<str:secret>/requests/<int:number>.pdf", requests.client_request, "client_request", GET=CLIENT),
    route("q/<str:secret>/quotation.pdf", page.client_paper, "client_paper", GET=CLIENT),
    route("q/<str:secret>/acceptance.pdf", page.client_certificate, "client_certificate", GET=CLIENT),
]
