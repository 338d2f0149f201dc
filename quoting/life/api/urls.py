from quoting.life.api import outcomes, quotes_out
from quoting.platform.people.access import DESK, PRICERS, route

urlpatterns = [
    route("quotes/out", quotes_out.QuotesOut.as_view(), "api_quotes_out", GET=PRICERS),
    route("jobs/<str:key>/follow-up", quotes_out.FollowUp.as_view(), "api_follow_up", GET=DESK, PUT=DESK),
    route("jobs/<str:key>/outcome", outcomes.Outcome.as_view(), "api_outcome", both=DESK),
    route("jobs/<str:key>/outcome/undo", outcomes.OutcomeUndo.as_view(), "api_outcome_undo", POST=DESK),
]
