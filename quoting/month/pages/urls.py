from quoting.month.pages import hand_over, month, overhead
from quoting.platform.people.access import BUYERS, OWNER, route

urlpatterns = [
    route("month/", month.month, GET=OWNER),
    route("month/<str:month>/", month.month, "month_of", GET=OWNER),
    route("month/<str:month>/close/", month.month_close, POST=OWNER),
    route("month/<str:month>/paper/", month.month_paper, POST=OWNER),
    route("month/<str:month>/jobs/<int:job_id>/why/", month.month_sentence, both=OWNER),
    route("buying/overhead/", overhead.overhead, both=BUYERS),
    route("buying/overhead/<int:overhead_id>/void/", overhead.overhead_void, both=BUYERS),
    route("buying/bookkeeper/", hand_over.hand_over, GET=BUYERS),
    route("buying/bookkeeper/accounts/", hand_over.accounts, "account_codes", both=BUYERS),
    route("buying/bookkeeper/<str:month>/", hand_over.hand_over, "hand_over_month", GET=BUYERS),
    route("buying/bookkeeper/<str:month>/<str:name>.csv", hand_over.hand_over_file, GET=BUYERS),
    route("month/<str:month>/<str:name>.csv", hand_over.labour_cost_file, GET=OWNER),
]
