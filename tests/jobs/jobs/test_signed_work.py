"""Signed and unsigned work apart on every list, on two jobs of the same rows of which one is signed."""

from datetime import UTC, date, datetime

import pytest
from django.urls import reverse

from jobs.jobs.models import Job, WorkedJob
from jobs.jobs.services.signed import of_work, signed_jobs
from jobs.needs.models import StoredNeed
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.schedule.models import PlannedActivityDays
from quoting.client.services.acceptance_withdrawal import Notice, take_back
from quoting.quotes.models import CancellationTerm
from tests.jobs.dates.test_dates_from_rows_pages import copies
from tests.stored import stored_job
from tests.support.answered import accept, with_paper
from tests.support.desk import as_, queries_of
from tests.support.signing import sign
from tests.support.worked import NOW, TODAY, issued

__all__ = ["as_"]
pytestmark = pytest.mark.django_db
# The base of the dental screen is to be ordered by Thu 10 Dec 2026 (worked examples).
DAY = datetime(2026, 12, 9, 15, 0, tzinfo=UTC)


@pytest.fixture
def pair(frozen_clock):
    """A signed job, and one that is not."""
    frozen_clock.move_to(DAY)
    first = stored_job("larkmoor-dental")
    keep_needs(first.pk, *find_needs(first.pk, DAY.date()), DAY)
    (other,) = copies(first, 1)
    sign(other)
    return other, first


def kinds(lines, signed):
    """Whether each is of the signed job, in the order shown, neighbours alike told once."""
    message = [line.job == signed for line in lines]
    return [entry for place, entry in enumerate(message) if place == 0 or message[place - 1] != entry]


@pytest.mark.both_engines
def test_a_job_is_signed_from_the_acceptance_of_its_quote_until_that_is_taken_back(job):
    CancellationTerm.objects.create(starts_on=TODAY, days=3, counting="business_and_saturday", source="our lawyer")
    revision = with_paper(issued(job))
    assert job.pk not in signed_jobs()
    accept(revision)
    assert job.pk in signed_jobs()
    revision.refresh_from_db()
    take_back(revision, Notice("Ada Client", TODAY), now=NOW, today=TODAY)
    assert job.pk not in signed_jobs()


def test_today_says_of_what_is_to_be_ordered_that_its_job_is_not_signed(as_, pair):
    signed, other = pair
    Job.objects.filter(pk=signed.pk).update(title="Signed one")
    Job.objects.filter(pk=other.pk).update(title="Other one")
    shown = as_("office").get(reverse("today")).context
    rows = [row.todo for row in (*shown["near"], *shown["soon"]) if row.todo.text == "Have the base signed off"]
    text = {row.jobs[0]: "Not signed yet." in row.why for row in rows}
    assert text == {"Signed one": False, "Other one": True}


@pytest.mark.both_engines
def test_order_dates_list_signed_work_before_any_other_and_count_it_apart(as_, pair):
    signed, _ = pair
    office = as_("office")
    result = office.get(reverse("order_dates")).context
    assert kinds(result["lines"], signed) == [True, False]
    assert result["totals"].all == 2 * result["unsigned"].all
    only = office.get(reverse("order_dates"), {"work": "signed"}).context
    assert kinds(only["lines"], signed) == [True] and only["unsigned"].all == 0


@pytest.mark.both_engines
def test_pages_of_order_dates_hold_every_row_once_with_signed_work_first(as_, pair, monkeypatch):
    monkeypatch.setattr("jobs.dates.pages.listing.ITEMS_A_PAGE", 4)
    # The unsigned job is worked up live, the signed one read from its rows.
    WorkedJob.objects.filter(pk=pair[1].pk).update(changes=99)
    office, read = as_("office"), []
    for page in range(1, office.get(reverse("order_dates")).context["listing"].pages + 1):
        read += office.get(reverse("order_dates"), {"page": page}).context["lines"]
    assert kinds(read, pair[0]) == [True, False]
    assert len({(line.job.pk, line.need.material) for line in read}) == len(read)


def test_crews_are_summed_for_signed_work_alone_as_well(as_, estimator, pair, frozen_clock):
    signed, other = pair
    PlannedActivityDays.objects.all().delete()
    days = {"first_day": date(2027, 1, 4), "last_day": date(2027, 1, 5), "key": "trim", "name": "Trim", "people": 2}
    for job in pair:
        PlannedActivityDays.objects.create(job=job, **days)
    # Two people are on site: two for each job are one pair too many, and signed work alone is not.
    (clash,) = estimator.get("/api/crew-clashes").json()["clashes"]
    assert (clash["wanted"], clash["wanted_signed"], clash["there"]) == (4, 2, 2)
    assert {part["job"]: part["signed"] for part in clash["parts"]} == {signed.key: True, other.key: False}
    assert estimator.get("/api/crew-clashes?work=signed").json()["clashes"] == []
    assert estimator.get("/api/crew-clashes?work=mine").status_code == 400
    assert "With work not signed" in as_("office").get(reverse("crew_clashes")).content.decode()


@pytest.mark.both_engines
def test_lists_of_more_jobs_ask_the_database_no_more(as_, pair):
    office, paths = as_("office"), [reverse("today"), reverse("order_dates")]
    assert all(office.get(path).status_code == 200 for path in paths)  # the first visit is kept
    few = [queries_of(office, path) for path in paths]
    for copy in copies(pair[1], 4):
        sign(copy)
    # Where signed work fills the page, what is not signed is not asked for.
    assert all(queries_of(office, path) <= before for path, before in zip(paths, few, strict=True))


@pytest.mark.both_engines
def test_rows_of_no_kind_of_work_are_rows_of_both(pair):
    rows = StoredNeed.objects.all()
    assert rows.filter(of_work("signed")).count() + rows.filter(of_work("unsigned")).count() == rows.count()
    assert rows.filter(of_work("")).count() == rows.count()
