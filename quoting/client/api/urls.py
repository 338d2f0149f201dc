from quoting.client.api import answers, sending
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/<str:key>/questions", answers.JobQuestions, GET=DESK),
    route("questions/<int:question_id>/answered", answers.AnsweredQuestion, POST=DESK),
    route("jobs/<str:key>/change-notes/<int:note>/mails", sending.NoteMails, both=DESK),
    route("quotes/<str:number>/revisions/<int:revision>/mails", sending.RevisionMails, both=DESK),
    route("quotes/<str:number>/revisions/<int:revision>/link", sending.RevisionLink, POST=DESK),
    route("quotes/<str:number>/revisions/<int:revision>/link/withdraw", sending.WithdrawLink, POST=DESK),
    route("quotes/<str:number>/revisions/<int:revision>/answer", answers.RevisionAnswer, both=DESK),
    route("quotes/<str:number>/revisions/<int:revision>/take-back", answers.TakeBackAcceptance, POST=DESK),
]
