from quoting.job_money.api import job_money, limits
from quoting.platform.people.access import OWNER, PRICERS, route

urlpatterns = [
    route("jobs/<str:key>/costs", job_money.Costs, GET=PRICERS),
    route("jobs/<str:key>/costs/left", job_money.SayLeft, POST=PRICERS),
    route("jobs/<str:key>/bridge", job_money.BridgeOfJob, GET=PRICERS),
    route("jobs/<str:key>/earned", job_money.EarnedOfJob, GET=PRICERS),
    route("money-limits", limits.Limits, GET=PRICERS, PUT=OWNER),
]
