from quoting.life.api import outcomes, quotes_out
from quoting.platform.people.access import DESK, PRICERS, route

urlpatterns = [
    route("quotes/out", quotes_out.QuotesOut, GET=PRICERS),
    route("jobs/<str:key>/follow-up", quotes_out.FollowUp, GET=DESK, PUT=DESK),
    route("jobs/<str:key>/outcome", outcomes.Outcome, both=DESK),
    route("jobs/<str:key>/outcome/undo", outcomes.OutcomeUndo, POST=DESK),
]
