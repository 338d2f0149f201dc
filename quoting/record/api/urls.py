from quoting.platform.people.access import OWNER, PRICERS, STAFF, route
from quoting.record.api import standards

urlpatterns = [
    route("standards/suggested", standards.SuggestedStandards, GET=PRICERS, POST=OWNER),
    route("standards/left-out", standards.LeftOutJobs, POST=PRICERS),
    route("standards/left-out/undo", standards.LeftOutUndo, POST=PRICERS),
    route("jobs/<str:key>/left-over", standards.LeftOvers, GET=STAFF, PUT=STAFF),
]
