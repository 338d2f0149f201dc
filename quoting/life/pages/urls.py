from quoting.life.pages import outcomes
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/<int:job_id>/lost/", outcomes.job_outcome, "job_outcome", both=DESK),
    route("jobs/<int:job_id>/lost/undo/", outcomes.job_outcome_undo, "job_outcome_undo", POST=DESK),
]
