from quoting.platform.people.access import OWNER, PRICERS, STAFF, route
from quoting.record.api import standards

urlpatterns = [
    route("standards/suggested", standards.SuggestedStandards.as_view(), "api_suggested", GET=PRICERS, POST=OWNER),
    route("standards/left-out", standards.LeftOutJobs.as_view(), "api_left_out", POST=PRICERS),
    route("standards/left-out/undo", standards.LeftOutUndo.as_view(), "api_left_out_undo", POST=PRICERS),
    route("jobs/<str:key>/left-over", standards.LeftOvers.as_view(), "api_left_over", GET=STAFF, PUT=STAFF),
]
