"""The way of a new firm to its first quote, step by step, until that quote is issued."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from django.urls import reverse

from catalog.models import Firm, Material
from catalog.services.book import NoFirmYet
from jobs.core.measure.survey import SurveyError
from jobs.jobs.models import Job
from quoting.core.quotes.work_up import WorkUp
from quoting.job_files.services.job_files import work_up_job
from quoting.platform.people import access
from quoting.pricing.models import Pricing
from quoting.quotes.models import QuoteRevision

NEEDED_KINDS = ("track", "stud", "board")
CHECKLIST = "pricing/checklist"


@dataclass(frozen=True)
class Step:
    """url: empty while a step before it is open, or where it is for somebody else to do."""

    what: str
    why: str
    is_done: bool
    url: str = ""


def first_steps(role: str, day: date) -> list[Step]:
    """Nothing for those who have issued a quote or have more than one job: they know their way."""
    if role not in access.DESK or QuoteRevision.objects.exists():
        return []
    jobs = list(Job.objects.select_related("client")[:2])
    if len(jobs) > 1:
        return []
    job = jobs[0] if jobs else None
    return [*_of_the_firm(role, job), *_of_the_job(role, job, day)]


def _of_the_firm(role: str, job: Job | None) -> Iterator[Step]:
    yield Step("Enter the firm", "Its name, time zone, units and currency.", Firm.objects.exists(), reverse("firm"))
    kinds = set(Material.objects.filter(kind__in=NEEDED_KINDS).values_list("kind", flat=True).distinct())
    empty = not kinds and role in access.PRICERS
    message = "At least a track, a stud and a board, with packs and prices. The starter list adds them all at once; a "
    catalog = reverse("catalog_start" if empty else "catalog")
    yield Step("Fill the catalog", f"{message}list of your own as CSV.", len(kinds) == len(NEEDED_KINDS), catalog)
    yield Step("Open a job", "A title and a client's name are enough to begin.", job is not None, reverse("job_add"))


def _of_the_job(role: str, job: Job | None, day: date) -> Iterator[Step]:
    has_wall = job is not None and job.walls.exists()
    usual = Pricing.objects.filter(job=None).exists()
    is_priced = job is not None and Pricing.objects.filter(job=job).exists()
    work_up = _worked_up(job, day) if job and has_wall and is_priced else None
    open_keys = {finding.key for finding in work_up.quote.blocking} if work_up and work_up.quote else None
    to_wall = reverse("wall_add", args=[job.pk]) if job else ""
    to_quote = reverse("quote", args=[job.pk]) if job and has_wall and role in access.PRICERS else ""
    to_usual = f"{reverse('usual_pricing')}?job={job.pk}" if job and to_quote else ""
    to_issue = reverse("quote_issue", args=[job.pk]) if job and is_priced and to_quote else ""
    yield Step("Measure the first wall", "Chord and rise from a tape, and the height.", has_wall, to_wall)
    yield Step("Set margin, hourly cost and tax", "Once, for every job.", usual or is_priced, to_usual)
    yield Step("Price the job", "The firm's usual way, changed where this job differs.", is_priced, to_quote)
    answered = open_keys is not None and CHECKLIST not in open_keys
    to_list = f"{to_quote}#checklist" if is_priced and to_quote else ""
    yield Step("Check the usual extras", "Delivery, protection, clean-up.", answered, to_list)
    left = "" if open_keys is None or not open_keys - {CHECKLIST} else " Not yet: see what is left before you can send."
    message = f"Makes the PDF and locks the figures.{left}"
    yield Step("Issue the quote", message, False, to_quote if left else to_issue)


def _worked_up(job: Job, day: date) -> WorkUp | None:
    try:
        return work_up_job(job, day)
    except (NoFirmYet, SurveyError):
        return None
