from jobs.deleted.pages import deleted
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/<int:job_id>/deleted/", deleted.job_deleted, GET=DESK),
    route("jobs/<int:job_id>/deleted/<int:deleted_id>/put-back/", deleted.job_put_back, POST=DESK),
]
