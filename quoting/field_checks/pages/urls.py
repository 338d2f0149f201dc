from quoting.field_checks.pages import field_check
from quoting.platform.people.access import STAFF, route

urlpatterns = [
    route("jobs/<int:job_id>/site/walls/<slug:wall_key>/field-check/", field_check.field_check, both=STAFF),
]
