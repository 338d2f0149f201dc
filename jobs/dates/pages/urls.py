from jobs.dates.pages import pages
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("order-dates/", pages.order_dates, "order_dates", GET=STAFF),
    route("order-dates/jobs/<int:job_id>/", pages.job_order_dates, "job_order_dates", GET=STAFF),
    route("order-dates/jobs/<int:job_id>/paper/", pages.order_dates_paper, "order_dates_paper", POST=DESK),
    route("order-dates/jobs/<int:job_id>/dates.ics", pages.order_dates_calendar, "order_dates_calendar", GET=STAFF),
]
