from quoting.job_files.pages import files
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/import/", files.job_import, both=DESK),
    route("jobs/<int:job_id>/export/", files.job_export, GET=DESK),
]
