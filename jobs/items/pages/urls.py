from jobs.items.pages import page
from quoting.platform.people.access import DESK, route

urlpatterns = [route("jobs/<int:job_id>/buying/other-items/", page.job_items, both=DESK)]
