from quoting.client.api import answers, sending
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route(
        "jobs/<str:key>/change-notes/<int:note>/mails", sending.NoteMails.as_view(), "api_change_note_mails", both=DESK
    ),
    route(
        "quotes/<str:number>/revisions/<int:revision>/mails", sending.RevisionMails.as_view(), "api_mails", both=DESK
    ),
    route("quotes/<str:number>/revisions/<int:revision>/link", sending.RevisionLink.as_view(), "api_link", POST=DESK),
    route(
        "quotes/<str:number>/revisions/<int:revision>/link/withdraw",
        sending.WithdrawLink.as_view(),
        "api_link_withdraw",
        POST=DESK,
    ),
    route(
        "quotes/<str:number>/revisions/<int:revision>/answer", answers.RevisionAnswer.as_view(), "api_answer", both=DESK
    ),
    route(
        "quotes/<str:number>/revisions/<int:revision>/take-back",
        answers.TakeBackAcceptance.as_view(),
        "api_take_back",
        POST=DESK,
    ),
]
