"""What a person says is still to be spent on an item, under their name and with a reason."""

from datetime import datetime
from typing import Any

from django.db import transaction

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.core.ground.request_keys import MAX_REQUEST_KEY, refuse_another
from catalog.services.typed_money import entry_reader
from jobs.jobs.models import Job
from quoting.core.money.quoted import CATEGORIES
from quoting.job_money.models import How, SaidLeft
from quoting.job_money.models.said_to_go import MAX_ITEM
from quoting.job_money.services.job_costs import job_costs_of
from quoting.platform.people.signatures import Signature
from quoting.platform.posting import month_to_post

SAID = ("job_id", "category", "item", "how", "amount", "reason")


@transaction.atomic
def say_to_go(job: Job, document: dict[str, Any], signature: Signature, *, now: datetime) -> tuple[SaidLeft, bool]:
    """request_key, category, item, how, amount, reason. Sent twice it is one; the newest of an item counts."""
    job = Job.objects.select_for_update(of=("self",)).get(pk=job.pk)
    reader = entry_reader(document)
    key = reader.text("request_key", longest=MAX_REQUEST_KEY)
    category, item = reader.choice("category", CATEGORIES), reader.text("item", longest=MAX_ITEM)
    how, amount = reader.choice("how", tuple(How.values)), reader.optional_money("amount")
    reason = reader.text("reason", longest=300)
    reader.finish()
    if (how == How.AMOUNT) != (amount is not None):
        message = (
            "is missing: say what it still costs"
            if amount is None
            else "is said, and nothing is to be spent; leave it empty"
        )
        raise DocumentError.at("amount", message)
    text = dict(zip(SAID, (job.pk, category, item, how, amount, reason), strict=True))
    present = SaidLeft.objects.filter(request_key=key).first()
    if present is not None:
        refuse_another(any(getattr(present, name) != entry for name, entry in text.items()), "something else")
        return present, False
    _refuse_unknown(job, category, item, signature)
    month = month_to_post(signature.on)
    row = SaidLeft.objects.create(
        request_key=key, **text, day=signature.on, posted_month=month, said_at=now, said_by_name=signature.by
    )
    return row, True


def _refuse_unknown(job: Job, category: str, item: str, signature: Signature) -> None:
    costs = job_costs_of([job.pk], signature.on).get(job.pk)
    if costs is None:
        raise Refused(f"No quote of {job} is accepted yet, so nothing is left to say of its cost.")
    known = {(cost.category, cost.item) for cost in costs.items}
    if (category, item) not in known:
        names = ", ".join(sorted({name for kind, name in known if kind == category and name})) or "none"
        raise DocumentError.at("item", f'"{item}" is no item of {category} here; they are {names}')
