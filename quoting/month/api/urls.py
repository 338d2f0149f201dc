from quoting.month.api import months
from quoting.platform.people.access import BUYERS, OWNER, route

urlpatterns = [
    route("months/<str:month>", months.Month, GET=OWNER),
    route("months/<str:month>/close", months.CloseMonth, POST=OWNER),
    route("months/<str:month>/jobs/<str:key>/why", months.MonthSentence, GET=OWNER, PUT=OWNER),
    route("overhead", months.Overheads, both=BUYERS),
    route("overhead/<int:overhead_id>/void", months.VoidOverhead, POST=BUYERS),
]
