from jobs.schedule.pages import actual_days, chance, crews, page, people
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("jobs/<int:job_id>/site/days/", page.job_dates, GET=STAFF, POST=DESK),
    route("jobs/<int:job_id>/site/days/preview/", page.job_dates_preview, POST=DESK),
    route("jobs/<int:job_id>/site/activities/days/", actual_days.activity_actual, POST=STAFF),
    route("jobs/<int:job_id>/site/people/", people.job_people, both=DESK),
    route("jobs/<int:job_id>/site/chance/", chance.job_chance, GET=STAFF),
    route("crew-clashes/", crews.crew_clashes, GET=STAFF),
]
