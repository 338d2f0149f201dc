"""Bills of a job, told in its history: when each was entered or voided, and what of it counts for the job."""

from collections.abc import Iterator

from django.db.models import Sum

from catalog.services.book import firm_of
from jobs.bills.models import Bill
from jobs.jobs.models import Job
from quoting.platform.formatting import money_words
from quoting.service.services.change_history import Change, EntryChange


def bill_changes(job: Job) -> Iterator[Change]:
    """In no order. Two queries."""
    rows = Bill.objects.filter(lines__job=job, entered_at__isnull=False).select_related("supplier")
    rows = rows.annotate(of_job=Sum("lines__amount") + Sum("lines__tax")).order_by("pk")
    currency = firm_of().currency if rows else ""
    for row in rows:
        what = f"{row.get_kind_display().lower()} {row.number} of {row.seller}"
        amount = (EntryChange("For this job", "", money_words(row.of_job, currency)),)
        did = "taken back" if row.reverses_id else "entered"
        yield Change(row.entered_at, row.entered_by_name, what, did, amount, is_event=True)
        if row.voided_at:
            why = (EntryChange("Reason", "", row.void_reason),)
            yield Change(row.voided_at, row.voided_by_name, what, "voided", why, is_event=True)
