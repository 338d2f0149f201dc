from quoting.platform.people.access import DESK, PRICERS, STAFF, route
from quoting.quotes.api import figures, papers, pricing, quotes

urlpatterns = [
    route("jobs/<str:key>/walls/<str:wall_key>/takeoff", figures.WallTakeoff, GET=STAFF),
    route("jobs/<str:key>/takeoff", figures.JobTakeoff, GET=STAFF),
    route("jobs/<str:key>/schedule", figures.JobSchedule, "api_schedule", GET=STAFF),
    route("jobs/<str:key>/pricing", pricing.JobPricing, both=PRICERS, PUT=PRICERS),
    route("jobs/<str:key>/quote", figures.JobQuote, GET=DESK),
    route("jobs/<str:key>/quote/issue", quotes.IssueQuote, POST=PRICERS),
    route("jobs/<str:key>/quote/approve", quotes.ApproveQuote, POST=PRICERS),
    route("quotes", quotes.Quotes, GET=DESK),
    route("quotes/<str:number>", quotes.OneQuote, GET=DESK),
    route("quotes/<str:number>/revisions/<int:revision>", quotes.OneRevision, "api_revision", GET=DESK),
    route("quotes/<str:number>/revisions/<int:revision>/withdraw", quotes.WithdrawRevision, POST=PRICERS),
    route("quotes/<str:number>/revisions/<int:revision>/paper", papers.PaperState, GET=DESK),
    route("quotes/<str:number>/revisions/<int:revision>/paper/retry", papers.RetryPaper, POST=DESK),
    route("quotes/<str:number>/revisions/<int:revision>/paper/file", papers.PaperFile, GET=DESK),
]
