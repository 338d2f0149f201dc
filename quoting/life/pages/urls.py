from quoting.life.pages import cautions, job, listing, outcomes, quotes_out, walls_compared
from quoting.platform.people.access import DESK, PRICERS, STAFF, route

urlpatterns = [
    route("jobs/", listing.job_list, GET=STAFF),
    route("jobs/quotes-out/", quotes_out.quotes_out_list, "quotes_out", GET=PRICERS),
    route("jobs/<int:job_id>/", job.job_sheet, "job", GET=STAFF),
    route("jobs/<int:job_id>/walls-side-by-side/", walls_compared.walls_compared, GET=STAFF),
    route("jobs/<int:job_id>/to-read/", cautions.job_cautions, GET=STAFF),
    route("jobs/<int:job_id>/follow-up/", quotes_out.follow_up, both=DESK),
    route("jobs/<int:job_id>/lost/", outcomes.job_outcome, both=DESK),
    route("jobs/<int:job_id>/lost/undo/", outcomes.job_outcome_undo, POST=DESK),
]
