from quoting.field_checks.api import field_check
from quoting.platform.people.access import STAFF, route

urlpatterns = [
    route("jobs/<str:key>/walls/<str:wall_key>/field-check", field_check.WallFieldCheck, POST=STAFF),
]
