from jobs.site.api import site_sheet
from quoting.platform.people.access import STAFF, route

urlpatterns = [
    route("jobs/<str:key>/site-sheet", site_sheet.SiteSheet, GET=STAFF),
]
