"""What an hour costs the firm today, by step, of many jobs: the rate their price names, in force on the day."""

from collections.abc import Collection
from datetime import date
from decimal import Decimal

from django.db.models import OuterRef, Subquery

from jobs.hours.models import TimeEntry
from jobs.jobs.models import Job
from quoting.pricing.models import Pricing
from quoting.pricing.services.taxes import labour_rates_by_name


def rates_of(job_ids: Collection[int], today: date) -> dict[int, dict[str, Decimal]]:
    """By job, then by step, "" for all others: as the price names it, else as whoever worked last costs.

    Empty where neither names a rate of today: the quoted one then stands.
    """
    by_name = labour_rates_by_name(today)
    rates: dict[int, dict[str, Decimal]] = {job: {} for job in job_ids}
    entries = TimeEntry.objects.filter(job=OuterRef("pk"), voided_at=None).order_by("-day", "-pk")
    last = Job.objects.filter(pk__in=job_ids).annotate(last=Subquery(entries.values("rate_name")[:1]))
    for job, name in last.values_list("pk", "last"):
        rates[job] |= {"": by_name[name]} if name in by_name else {}
    for pricing in Pricing.objects.filter(job__in=job_ids).prefetch_related("costs"):
        named = {cost.what: cost.rate_name for cost in pricing.costs.all() if cost.category == "labour"}
        named[""] = pricing.hour_rate_name
        rates[pricing.job_id] |= {step: by_name[name] for step, name in named.items() if name in by_name}
    return rates
