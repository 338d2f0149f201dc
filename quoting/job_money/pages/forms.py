from typing import Any

from jobs.deliveries.pages.order_events_forms import KeyedForm
from quoting.job_money.models import How
from quoting.job_money.services.saying import NewLeft
from quoting.platform.pages.declared_fields import form_field
from quoting.platform.pages.document_fields import share_text
from quoting.platform.pages.entry_form import EntryForm, pick, text


class SayForm(KeyedForm):
    how = pick("What is still to be spent", How.choices)
    amount = text("Amount", "What is on order included.", longest=20)
    reason = form_field(NewLeft, "reason")


class LimitsForm(EntryForm):
    days_without_bill = text("Goods without a bill, days", longest=3)
    under_billed = text("Earned, not billed, %", longest=20)
    points_a_month = text("Margin lost in a month, points", longest=20)

    def entries(self) -> dict[str, Any]:
        document = super().entries()
        return document | ({"under_billed": share_text(document["under_billed"])} if "under_billed" in document else {})
