"""What a job's quote would be with pricing that is typed and not stored."""

from dataclasses import replace
from datetime import date
from typing import Any

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import DocumentError
from catalog.services.book import book_of
from catalog.services.typed_money import entry_reader
from jobs.core.takeoff.wall_work_up import WallWorkUp
from jobs.jobs.models import Job
from jobs.walls.services.wall_cache import walls_worked_up
from jobs.work_up.services.kept_job_specs import kept_spec
from quoting.core.quotes.job_file import JobFile, PricingSpec
from quoting.core.quotes.work_up import WorkUp, work_up
from quoting.platform.people.signatures import Signature
from quoting.pricing.services.least_margin import as_the_firm_asks, with_approval
from quoting.pricing.services.price_terms import with_signature
from quoting.pricing.services.rate_lookup import by_name
from quoting.pricing.services.taxes import tax_in_force
from quoting.texts.services.firm_texts import firm_texts_of

Document = dict[str, Any]


def work_up_with(job: Job, pricing: Document, today: date, signature: Signature | None = None) -> WorkUp:
    """Stores nothing. Raises DocumentError where the pricing cannot be read, SurveyError as `work_up` does."""
    document, names = by_name(with_signature(pricing, signature), today)
    spec = read(PricingSpec, entry_reader(document))
    if names.tax:
        rule = tax_in_force(names.tax, today)
        if rule is None:
            raise DocumentError.at("tax.rate", f"no rate of {names.tax} is in force today; give a rate")
        spec = replace(spec, tax=rule)
    spec = as_the_firm_asks(spec)
    job_file = JobFile(book_of(), kept_spec(job), spec, firm_texts_of())
    walls = {wall.name for wall in job_file.job.walls}
    # A wall renamed since the page was opened: its costs serve the whole job until they are saved again.
    lines = tuple(cost if cost.section in walls else replace(cost, section="") for cost in spec.costs)
    job_file = replace(job_file, pricing=replace(spec, costs=lines))

    def walls_of(file: JobFile) -> tuple[WallWorkUp, ...]:
        return walls_worked_up(file, today)

    result = work_up(job_file, today, walls_of(job_file), walls_of=walls_of)
    return result if result.quote is None else replace(result, quote=with_approval(job, result.quote))
