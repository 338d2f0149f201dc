from quoting.builds.pages import page, way_price
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/<int:job_id>/builds/", page.job_builds, GET=DESK),
    route("jobs/<int:job_id>/builds/use/", page.job_build_use, POST=DESK),
    route("jobs/<int:job_id>/walls/<slug:wall_key>/ways/price/", way_price.way_price, GET=DESK),
]
