from quoting.life.api import outcomes
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/<str:key>/outcome", outcomes.Outcome.as_view(), "api_outcome", both=DESK),
    route("jobs/<str:key>/outcome/undo", outcomes.OutcomeUndo.as_view(), "api_outcome_undo", POST=DESK),
]
