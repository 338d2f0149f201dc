from quoting.platform.people.access import DESK, PRICERS, STAFF, route
from quoting.quotes.api import figures, papers, pricing, quotes

urlpatterns = [
    route("jobs/<str:key>/walls/<str:wall_key>/takeoff", figures.WallTakeoff.as_view(), "api_wall_takeoff", GET=STAFF),
    route("jobs/<str:key>/takeoff", figures.JobTakeoff.as_view(), "api_takeoff", GET=STAFF),
    route("jobs/<str:key>/schedule", figures.JobSchedule.as_view(), "api_schedule", GET=STAFF),
    route("jobs/<str:key>/pricing", pricing.JobPricing.as_view(), "api_pricing", both=PRICERS, PUT=PRICERS),
    route("jobs/<str:key>/quote", figures.JobQuote.as_view(), "api_quote", GET=DESK),
    route("jobs/<str:key>/quote/issue", quotes.IssueQuote.as_view(), "api_quote_issue", POST=PRICERS),
    route("jobs/<str:key>/quote/approve", quotes.ApproveQuote.as_view(), "api_quote_approve", POST=PRICERS),
    route("quotes", quotes.Quotes.as_view(), "api_quotes", GET=DESK),
    route("quotes/<str:number>", quotes.OneQuote.as_view(), "api_issued_quote", GET=DESK),
    route("quotes/<str:number>/revisions/<int:revision>", quotes.OneRevision.as_view(), "api_revision", GET=DESK),
    route(
        "quotes/<str:number>/revisions/<int:revision>/withdraw",
        quotes.WithdrawRevision.as_view(),
        "api_revision_withdraw",
        POST=PRICERS,
    ),
    route("quotes/<str:number>/revisions/<int:revision>/paper", papers.PaperState.as_view(), "api_paper", GET=DESK),
    route(
        "quotes/<str:number>/revisions/<int:revision>/paper/retry",
        papers.RetryPaper.as_view(),
        "api_paper_retry",
        POST=DESK,
    ),
    route(
        "quotes/<str:number>/revisions/<int:revision>/paper/file",
        papers.PaperFile.as_view(),
        "api_paper_file",
        GET=DESK,
    ),
]
