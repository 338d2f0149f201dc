"""What a person says is still to be spent on an item, under their name and with a reason."""

from dataclasses import asdict, dataclass
from datetime import datetime
from decimal import Decimal
from typing import Annotated, Any

from django.db import transaction

from catalog.core.ground.declared import As, Choice, Money, Text, read
from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.reasons import MAX_WHY
from catalog.core.ground.refusal import EntryError, Refused
from catalog.core.ground.request_keys import RequestKey, refuse_another
from catalog.services.typed_money import entry_reader
from jobs.jobs.models import Job
from quoting.core.money.quoted import CATEGORIES
from quoting.job_money.models import How, SaidLeft
from quoting.job_money.models.said_to_go import MAX_ITEM
from quoting.job_money.services.job_costs import job_costs_of
from quoting.platform.people.signatures import Signature
from quoting.platform.posting import month_to_post


@dataclass(frozen=True, kw_only=True)
class NewLeft:
    """What a person says is still to be spent on an item, commitments included."""

    request_key: RequestKey
    category: Annotated[str, Choice(CATEGORIES)]
    item: Annotated[str, Text(MAX_ITEM)]
    how: Annotated[str, Choice(tuple(How.values))]
    amount: Annotated[Decimal | None, Money()] = None
    reason: Annotated[str, Text(MAX_WHY), As(label="Why")]

    def __post_init__(self) -> None:
        if (self.how == How.AMOUNT) != (self.amount is not None):
            is_missing = self.amount is None
            message = "is said, and nothing is to be spent; leave it empty"
            raise EntryError("amount", "is missing: say what it still costs" if is_missing else message)


@transaction.atomic
def say_to_go(job: Job, document: dict[str, Any], signature: Signature, *, now: datetime) -> tuple[SaidLeft, bool]:
    """document: as `NewLeft`. Sent twice it is one; the newest of an item counts."""
    job = Job.objects.select_for_update(of=("self",)).get(pk=job.pk)
    said = read(NewLeft, entry_reader(document))
    text = asdict(said) | {"job_id": job.pk}
    key = text.pop("request_key")
    present = SaidLeft.objects.filter(request_key=key).first()
    if present is not None:
        refuse_another(any(getattr(present, name) != entry for name, entry in text.items()), "something else")
        return present, False
    _refuse_unknown(job, said.category, said.item, signature)
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
        raise DocumentError.at("item", f'"{item}" is not an item of {category} here; they are {names}')
