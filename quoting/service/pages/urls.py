from quoting.platform.people.access import DESK, PRICERS, STAFF, route
from quoting.service.pages import find, history, more, papers_made, sites, starter, today

urlpatterns = [
    route("catalog/start/", starter.catalog_start, both=PRICERS),
    route("today/", today.today, GET=STAFF),
    route("today/changes/", today.today_changes, GET=DESK),
    route("sites/", sites.sites, GET=STAFF),
    route("find/", find.find, GET=STAFF),
    route("more/", more.more, GET=STAFF),
    route("catalog/materials/<int:material_id>/history/", history.material_history, GET=DESK),
    route("papers/<int:paper_id>/", papers_made.paper, GET=DESK),
    route("papers/errands/<int:errand_id>/", papers_made.paper_progress, GET=DESK),
    route("papers/errands/<int:errand_id>/retry/", papers_made.paper_retry, POST=DESK),
    route("jobs/<int:job_id>/history/", history.job_history, GET=DESK),
]
