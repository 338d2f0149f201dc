"""A job's price from its row, worked out once for each state of job, catalog, rates and day.

`stored_price` is what a page of one job calls, `prices_of_jobs` what a list does. Both are for those who price.
"""

import hashlib
import json
from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from catalog.core.ground.plain_values import from_plain, to_plain
from catalog.services.changes import catalog_number
from jobs.core.measure.survey import SurveyError
from jobs.jobs.models import Job
from quoting.core.quotes.price_facts import PriceFacts, price_facts
from quoting.job_files.services.job_files import work_up_job
from quoting.platform.code_mark import code_mark
from quoting.platform.read_once import read_anew, read_once
from quoting.pricing.models import ChecklistAnswer, LabourRate, MarginApproval, Pricing, TaxRate
from quoting.quotes.models import StoredPrice
from quoting.texts.services.firm_texts import firm_texts_of

RULES = ("catalog.core", "jobs.core", "quoting.core")
NOT_PRICED = "null"


@dataclass(frozen=True)
class ListedPrice:
    """facts: None where the job is not priced. on: the day they were worked out on. is_current: nothing has moved."""

    facts: PriceFacts | None
    on: date
    is_current: bool


def stored_price(job: Job, today: date) -> PriceFacts | None:
    """None where the job is not priced, or its walls cannot be worked out. Raises NoFirmYet."""
    mark = price_mark(job.pk, today)
    row = StoredPrice.objects.filter(pk=job.pk, mark=mark).first()
    return _read(row.document) if row else _worked_out(job, today, mark)


def prices_of_jobs(job_ids: Collection[int], today: date) -> dict[int, ListedPrice]:
    """As they were last worked out, in a number of queries that does not grow with the jobs."""
    marks = _marks(job_ids, today)
    rows = StoredPrice.objects.filter(pk__in=job_ids)
    return {row.pk: ListedPrice(_read(row.document), row.on, row.mark == marks.get(row.pk)) for row in rows}


def price_mark(job_id: int, today: date) -> str:
    return _marks([job_id], today)[job_id]


def _worked_out(job: Job, today: date, mark: str) -> PriceFacts | None:
    with read_anew():
        try:
            fact = price_facts(work_up_job(job, today))
        except SurveyError:
            fact = None
        if price_mark(job.pk, today) == mark:
            document = json.dumps(to_plain(fact), ensure_ascii=False, separators=(",", ":"))
            figures = {"mark": mark, "on": today, "document": document}
            StoredPrice.objects.update_or_create(pk=job.pk, defaults=figures)
    return fact


def _read(document: str) -> PriceFacts | None:
    return None if document == NOT_PRICED else from_plain(PriceFacts, json.loads(document))


def _marks(job_ids: Collection[int], today: date) -> dict[int, str]:
    firm = read_once(("prices of the firm", today), lambda: _of_the_firm(today))
    columns = ("pk", "worked__changes", "client__tax_exempt_certificate")
    jobs = {pk: state for pk, *state in Job.objects.filter(pk__in=job_ids).values_list(*columns)}
    pricing = {job: row for job, *row in Pricing.objects.filter(job__in=job_ids).values_list("job", "pk", "version")}
    approved: dict[int, list[int]] = {}
    for job, row in MarginApproval.objects.filter(job__in=job_ids).order_by("pk").values_list("job", "pk"):
        approved.setdefault(job, []).append(row)
    return {pk: _mark((firm, jobs.get(pk), pricing.get(pk), approved.get(pk), str(today))) for pk in job_ids}


def _of_the_firm(today: date) -> str:
    """Mark over what every price takes from the firm: catalog, rates in force, usual pricing, texts, and the code."""
    usual = Pricing.objects.filter(job=None).values_list("pk", "version", "minimum_margin")
    wanted = ChecklistAnswer.objects.filter(pricing__job=None).order_by("pk").values_list()
    rates = [
        list(model.objects.filter(starts_on__lte=today).order_by("pk").values_list()) for model in (TaxRate, LabourRate)
    ]
    return _mark((code_mark(*RULES), catalog_number(), list(usual), list(wanted), rates, firm_texts_of()))


def _mark(value: object) -> str:
    return hashlib.sha256(repr(value).encode()).hexdigest()
