from quoting.job_money.api import job_money, limits
from quoting.platform.people.access import OWNER, PRICERS, route

urlpatterns = [
    route("jobs/<str:key>/costs", job_money.Costs.as_view(), "api_costs", GET=PRICERS),
    route("jobs/<str:key>/costs/left", job_money.SayLeft.as_view(), "api_costs_left", POST=PRICERS),
    route("jobs/<str:key>/bridge", job_money.BridgeOfJob.as_view(), "api_bridge", GET=PRICERS),
    route("jobs/<str:key>/earned", job_money.EarnedOfJob.as_view(), "api_earned", GET=PRICERS),
    route("money-limits", limits.Limits.as_view(), "api_money_limits", GET=PRICERS, PUT=OWNER),
]
