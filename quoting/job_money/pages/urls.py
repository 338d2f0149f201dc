from quoting.job_money.pages import limits, money, papers
from quoting.platform.people.access import OWNER, PRICERS, route

urlpatterns = [
    route("jobs/<int:job_id>/price/money/", money.job_money, GET=PRICERS),
    route("jobs/<int:job_id>/price/money/paper/", papers.job_result, POST=PRICERS),
    route("jobs/<int:job_id>/price/money/<str:category>/", money.money_item, both=PRICERS),
    route("firm/warnings/", limits.money_limits_page, "money_limits", both=OWNER),
]
