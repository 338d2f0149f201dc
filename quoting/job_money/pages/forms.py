from jobs.deliveries.pages.order_events_forms import KeyedForm
from quoting.job_money.models import How
from quoting.platform.pages.entry_form import pick, text


class SayForm(KeyedForm):
    how = pick("What is still to be spent", How.choices)
    amount = text("Amount", "What is on order included.", longest=20)
    reason = text("Why", longest=300)
