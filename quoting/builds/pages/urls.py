from quoting.builds.pages import page
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/<int:job_id>/builds/", page.job_builds, GET=DESK),
    route("jobs/<int:job_id>/builds/use/", page.job_build_use, POST=DESK),
]
