import time
from datetime import datetime
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError

from catalog.core.ground.refusal import Refused
from jobs.dates.services.order_dates_paper import request_order_dates
from jobs.orders.models import Order
from quoting.core.quotes.work_up import WorkUp
from quoting.job_files.services.job_files import work_up_job
from quoting.platform import clock
from quoting.platform.errands.models import Errand, ErrandState
from quoting.platform.formatting import day_words, money_words
from quoting.platform.papers.papers import paper_of, path_of
from quoting.platform.people.models import Person
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.quote_papers import quote_paper_errand, request_quote_paper
from quoting.quotes.services.quotes import issue_quote
from quoting.service.demo.demo import (
    DEMO_DAY,
    PANELLED_JOB,
    demo_people,
    job_key,
    load_demo,
    refuse_unless_free,
)
from quoting.service.demo.demo_client import hand_over
from quoting.service.demo.demo_jobs import MAIN_JOB
from quoting.service.demo.demo_orders import load_demo_orders, quote_signed_jobs
from quoting.service.demo.demo_worker import ErrandsTookTooLong, WorkerForNow
from quoting.service.services.terminal_tables import order_dates_table, takeoff_table

ESTIMATOR, OFFICE = "demo-estimator", "demo-office"


class Command(BaseCommand):
    help = "Sets up the demonstration and runs its main job through a background worker, from takeoff to papers."

    def handle(self, *args: Any, **options: Any) -> None:
        began = time.monotonic()
        if not settings.PRODUCTION:
            call_command("migrate", interactive=False, verbosity=0)
        try:
            refuse_unless_free()
            self._run(clock.now())
        except (Refused, ErrandsTookTooLong) as error:
            raise CommandError(str(error)) from error
        self._say(f"\nDone in {time.monotonic() - began:.1f} s. `make serve` opens the service.")

    def _run(self, now: datetime) -> None:
        log_ins = demo_people()
        job = load_demo(now)
        self._say(f"{job.client.name}: {job.title} ({job.key})")
        self._say(f"Figures as of {day_words(DEMO_DAY)}, the day the example is written for.")
        work_up = work_up_job(job, DEMO_DAY)
        by = Person.objects.get(login_name=ESTIMATOR)
        # One request for all runs of the demo: the quote is issued once and its paper is made once.
        revision = issue_quote(job, request_key=f"demo {job.key}", seen_mark=None, by=by, now=now, today=DEMO_DAY)
        hand_over(revision, by=by, now=now)
        office = Person.objects.get(login_name=OFFICE)
        signed = quote_signed_jobs(by=by, now=now)
        errands = [
            quote_paper_errand(revision) or request_quote_paper(revision, now),
            request_order_dates(job, work_up, prepared_by=office.full_name, now=now),
        ]
        others = [quote_paper_errand(entry) or request_quote_paper(entry, now) for entry in signed]
        self._have_made([*errands, *others])
        # Only now: their own errands would stand before the papers that are waited for.
        orders = self._have_ordered(office, now)
        self._show(work_up, revision, errands)
        self._say("\nOrders")
        self._say(orders)
        self._say("\nLog-ins of the demo")
        for each in log_ins:
            self._say(f"  {each.name:16} {each.password}  {each.role}")

    def _have_made(self, errands: list[Errand]) -> None:
        unfinished = [errand for errand in errands if not errand.is_over]
        if unfinished:
            with WorkerForNow() as worker:
                self._say("A worker is at work already." if worker.was_there else "A worker process is started.")
                worker.wait_for(unfinished, self._tell)
        for errand in errands:
            if errand.state == ErrandState.FAILED:
                raise CommandError(f"{errand.kind} failed: {errand.error}")

    def _have_ordered(self, office: Person, now: datetime) -> str:
        try:
            framed, panelled = job_key(MAIN_JOB), job_key(PANELLED_JOB)
            if not load_demo_orders(framed=framed, panelled=panelled, by=office.full_name, now=now):
                return "  None: what the demo would order belongs to days on which nothing was quoted yet."
        except Refused as refused:
            return f"  None, for something was changed since: {refused}"
        lines = [
            f"  {order.number}  {order.supplier.name:24} "
            + (f"placed {day_words(order.placed_on)}" if order.placed_on else order.get_state_display().lower())
            for order in Order.objects.select_related("supplier").order_by("pk")
        ]
        return "\n".join(lines)

    def _tell(self, errand: Errand) -> None:
        about = errand.progress_text or "waiting"
        again = f", try {errand.tries}" if errand.tries > 1 else ""
        if errand.state == ErrandState.CLAIMED or errand.is_over:
            self._say(f"  {errand.kind}: {errand.get_state_display().lower()}, {about}{again}")

    def _show(self, work_up: WorkUp, revision: QuoteRevision, errands: list[Errand]) -> None:
        self._say("\nTakeoff in brief")
        self._say(takeoff_table(work_up))
        total = money_words(revision.total, revision.currency)
        price, tax = (money_words(entry, revision.currency) for entry in (revision.price, revision.tax))
        self._say(f"\nQuotation {revision.quote.number}, revision {revision.number}")
        self._say(f"  Price {price}, tax {tax}, total {total}; valid until {day_words(revision.valid_until)}")
        self._say("\nOrder dates")
        self._say(order_dates_table(work_up))
        self._say("\nPapers")
        for errand in errands:
            paper = paper_of(errand)
            if paper is None:
                raise CommandError(f"{errand.kind} is done, but its paper is not there; run manage.py audit.")
            self._say(f"  {paper.title}\n    {path_of(paper)}")

    def _say(self, text: str) -> None:
        self.stdout.write(text)
        self.stdout.flush()
