"""What an hour costs the firm today, by step, of many jobs: the rate their price names, in force on the day."""

from collections.abc import Collection
from datetime import date
from decimal import Decimal

from quoting.pricing.models import Pricing
from quoting.pricing.services.taxes import labour_rates_by_name


def rates_of(job_ids: Collection[int], today: date) -> dict[int, dict[str, Decimal]]:
    """By job, then by step, "" for all others. Empty where the price names no rate: the quoted one then stands."""
    by_name = labour_rates_by_name(today)
    only = {"": next(iter(by_name.values()))} if len(by_name) == 1 else {}
    found = {job: dict(only) for job in job_ids}
    for pricing in Pricing.objects.filter(job__in=job_ids).prefetch_related("costs"):
        named = {cost.what: cost.rate_name for cost in pricing.costs.all() if cost.category == "labour"}
        named[""] = pricing.hour_rate_name
        found[pricing.job_id] |= {step: by_name[name] for step, name in named.items() if name in by_name}
    return found
