from jobs.deleted.api import deleted
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("jobs/<str:key>/deleted", deleted.DeletedParts, GET=DESK),
    route("jobs/<str:key>/deleted/<int:deleted_id>/put-back", deleted.PutBack, POST=DESK),
]
