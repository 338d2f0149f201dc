from quoting.month.api import months
from quoting.platform.people.access import BUYERS, OWNER, route

urlpatterns = [
    route("months/<str:month>", months.Month.as_view(), "api_month", GET=OWNER),
    route("months/<str:month>/close", months.CloseMonth.as_view(), "api_month_close", POST=OWNER),
    route(
        "months/<str:month>/jobs/<str:key>/why",
        months.MonthSentence.as_view(),
        "api_month_sentence",
        GET=OWNER,
        PUT=OWNER,
    ),
    route("overhead", months.Overheads.as_view(), "api_overhead", both=BUYERS),
    route("overhead/<int:overhead_id>/void", months.VoidOverhead.as_view(), "api_overhead_void", POST=BUYERS),
]
