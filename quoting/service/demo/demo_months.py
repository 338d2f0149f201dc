"""Four months of the demonstration's work: jobs quoted, worked, billed, asked for and closed, each on its day."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from catalog.core.ground.workdays import WorkCalendar
from catalog.services.book import firm_of
from jobs.jobs.models import Job
from jobs.jobs.services.open_jobs import close_job
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.orders.models import Order
from quoting.core.money.month import next_month
from quoting.job_files.services.job_files import import_job_file
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people.models import Person, Role
from quoting.quotes.models import AnswerKind, QuoteRevision
from quoting.quotes.services.acceptance import Given, answer_revision
from quoting.quotes.services.quotes import issue_quote
from quoting.service.demo.demo_books import DemoBooks
from quoting.service.demo.demo_desk import DemoOffice
from quoting.service.demo.demo_finished import COUNTER_SCREEN, KILN_WALL, FinishedJob, finished_document
from quoting.service.demo.demo_hall import BASE, COUNTER, Bay
from quoting.service.demo.demo_hours import CREW, SECOND_CREW, crew_of_the_demo, free_on, hours_elsewhere
from quoting.service.demo.demo_jobs import pricing_signed

QUOTED_BEFORE, SIGNED_BEFORE, WORKED, CLOSED_AFTER = 6, 5, 7, 5
BAY_WORKED = 10
ALL = Decimal(1)
FINISHED = (COUNTER_SCREEN, KILN_WALL)


@dataclass(frozen=True)
class DemoMonths:
    """The months before this one; today: the day the demonstration is loaded."""

    office: Person
    owner: Person
    today: date
    now: datetime

    @property
    def firm(self) -> WorkCalendar:
        return firm_of().calendar

    @property
    def firsts(self) -> list[date]:
        """The first days of this month and the three before, the earliest first."""
        months = [self.today.replace(day=1)]
        while len(months) < 4:
            months.insert(0, _month_before(months[0]))
        return months

    def books(self, day: date) -> DemoBooks:
        return DemoBooks(self.office, day)

    def begin(self) -> None:
        crew_of_the_demo(self.office.full_name, now=self.now, today=self.firsts[0])

    def fill(self, month: date, *, but: int = 0) -> None:
        """Days of a month on which nobody was on a job, up to yesterday. but: so many of the last are not entered."""
        last = min(self.firm.back(next_month(month), 1), self.firm.back(self.today, 1))
        days = [day for day in self.days(self.firm.on_or_after(month), last) if free_on(day)] if month <= last else []
        hours_elsewhere(days[: len(days) - but], self.office.full_name, now=self.now, today=self.today)

    def week_of(self, month: date) -> tuple[date, date]:
        """When a job of a week begins and is done, a few days before the end of the month."""
        day = self.firm.back(next_month(month), 4)
        return self.firm.back(day, WORKED), day

    def quote(self, entry: FinishedJob, month: date, by: Person) -> QuoteRevision:
        begins, _ = self.week_of(month)
        desk = DemoOffice(by.full_name, self.firm.back(begins, SIGNED_BEFORE + QUOTED_BEFORE))
        document = finished_document(entry, starts_on=begins, pricing=pricing_signed(desk.on, entry.title))
        job = import_job_file(document, now=self.now)
        return issue_quote(job, request_key=f"demo {job.key}", seen_mark=None, by=by, now=desk.now, today=desk.on)

    def sign(self, job: Job, on: date, *, by: str) -> None:
        """Accepted on paper; the first part is asked for and paid."""
        given = Given(AnswerKind.ACCEPTED, by, entered_by_name=self.office.full_name)
        revision = QuoteRevision.objects.get(quote__job=job)
        answer_revision(revision, given, now=DemoOffice(self.office.full_name, on).now, today=on)
        self.books(on).ask(job, 0, paid_after=3)

    def finish(self, entry: FinishedJob, month: date, number: str) -> None:
        job, (begins, day) = Job.objects.get(key=entry.key), self.week_of(month)
        self.sign(job, self.firm.back(begins, SIGNED_BEFORE), by=entry.signed_by)
        self.books(begins).bill_goods(job, COUNTER, f"T-{number}", dearer=entry.dearer)
        self.books(begins).work(job, self.days(begins, day), entry.slower_by, SECOND_CREW)
        self.books(self.firm.forward(begins, 4)).ask(job, 1, paid_after=6)
        self._bill_others(job, day, number)
        self.books(day).ask(job, 2, paid_after=8)
        self.close(job, day)

    def _bill_others(self, job: Job, day: date, number: str) -> None:
        self.books(day).bill_lumps(job, "Marlow & Daughter, painters", f"MD-{number}", "subcontract")
        self.books(day).bill_lumps(job, "Sallow Haulage", f"SH-{number}", "other")

    def finish_bay(self, job: Job, order: Order, came: date, bay: Bay) -> None:
        """The trim of a bay came; its crew was there from before, and is done a few days later."""
        number = str(bay.after)
        begins, day = self.firm.back(came, BAY_WORKED), min(self.firm.forward(came, 4), self.firm.back(self.today, 1))
        self.books(begins).bill_goods(job, COUNTER, f"T-11{number}", dearer=bay.dearer, but=(BASE,))
        self.books(begins).work(job, self.days(begins, day), lambda _: bay.slower, CREW)
        if bay.waited:
            self.books(self.firm.back(begins, 1)).wait(job, "trim", bay.waited, "Set up for the base, which was late")
        self.books(self.firm.back(came, 1)).ask(job, 1, paid_after=4)
        self.books(day).bill_order(order, f"HM-31{number}", freight=bay.freight)
        self._bill_others(job, day, f"11{number}")
        self.books(day).ask(job, 2)

    def end_month(self, month: date, job: FinishedJob) -> None:
        """Its rent is paid; its owner said why the job made what it made, and closed it."""
        self.fill(month)
        self.books(self.firm.back(next_month(month), 1)).pay_overhead()
        self.books(self.firm.forward(next_month(month), CLOSED_AFTER)).close(month, self.owner, job)

    def close(self, job: Job, on: date) -> None:
        """What was stored of its dates follows at once: nobody is there yet to do it afterwards."""
        close_job(Job.objects.get(pk=job.pk), on)
        pair = find_needs(job.pk, self.today)
        assert pair is not None, "it was just closed"
        keep_needs(job.pk, *pair, self.now)

    def days(self, first: date, last: date) -> list[date]:
        result = [first]
        while result[-1] < last:
            result.append(self.firm.forward(result[-1], 1))
        return result


def months_of(now: datetime) -> DemoMonths:
    office, owner = (Person.objects.filter(role=role).order_by("pk")[0] for role in (Role.OFFICE, Role.OWNER))
    return DemoMonths(office, owner, day_at_the_firm(now), now)


def first_months(months: DemoMonths) -> None:
    """The two jobs that were done before the hall."""
    months.begin()
    months.finish(COUNTER_SCREEN, months.firsts[0], "1041")
    months.finish(KILN_WALL, months.firsts[1], "1067")


def end_months(months: DemoMonths) -> None:
    """The first two are closed; of the third two days are not entered yet."""
    months.end_month(months.firsts[0], COUNTER_SCREEN)
    months.end_month(months.firsts[1], KILN_WALL)
    months.fill(months.firsts[2], but=2)
    months.fill(months.firsts[3])


def _month_before(first: date) -> date:
    return date(first.year - (first.month == 1), 12 if first.month == 1 else first.month - 1, 1)
