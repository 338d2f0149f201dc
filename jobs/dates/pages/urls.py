from jobs.dates.pages import pages
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("buying/to-order/", pages.order_dates, GET=STAFF),
    route("jobs/<int:job_id>/buying/", pages.job_order_dates, GET=STAFF),
    route("jobs/<int:job_id>/buying/paper/", pages.order_dates_paper, POST=DESK),
]
