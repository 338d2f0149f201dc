"""Who sees the money of a job, and what a person says is still to go."""

import pytest
from django.urls import reverse

from quoting.core.money.cost_warnings import CostWarning
from quoting.job_money.models import SaidLeft
from quoting.job_money.pages.warned import warned_address
from quoting.job_money.services.job_costs import money_of
from tests.factories.bills import bill_line, bill_row
from tests.factories.hours import time_entry, worker
from tests.support.answered import accept, with_paper
from tests.support.desk import as_
from tests.support.worked import NOW, issued, small_job

pytestmark = pytest.mark.django_db
__all__ = ["as_"]
LEFT = {
    "request_key": "k",
    "category": "other",
    "item": "Delivery",
    "how": "amount",
    "amount": "99.50",
    "reason": "Told so",
}
ADDRESSES = ["/api/jobs/J-0100/costs", "/api/jobs/J-0100/bridge", "/api/jobs/J-0100/earned"]


@pytest.fixture
def job():
    job = small_job()
    accept(with_paper(issued(job)))
    # An odd rate and an odd bill, that nobody but those who price may read.
    time_entry(worker(), job, 60, rate="47.13", step="All work")
    bill_line(bill_row(), job, "31.17", item="as entered")
    return job


def pages(job):
    item = reverse("money_item", args=[job.pk, "labour"]) + "?item=All work"
    return [reverse("job_money", args=[job.pk]), item, *ADDRESSES]


@pytest.mark.parametrize(("role", "sees"), [("owner", True), ("estimator", True), ("office", False), ("lead", False)])
def test_only_those_who_price_read_what_a_job_costs(job, as_, role, sees):
    person = as_(role)
    for page in pages(job):
        answer = person.get(page)
        assert (answer.status_code == 200) is sees
        assert sees or not any(odd in answer.content.decode() for odd in ("47.13", "31.17"))


@pytest.mark.parametrize("role", ["office", "lead"])
def test_no_page_of_the_job_leads_others_to_its_money(job, as_, role):
    shown = as_(role).get(reverse("job", args=[job.pk])).content.decode()
    assert reverse("job_money", args=[job.pk]) not in shown


@pytest.mark.parametrize(("role", "leads"), [("owner", True), ("estimator", False)])
def test_a_warning_leads_where_its_reader_may_go(job, make_person, role, leads, rf):
    costs = money_of([job.pk], NOW.date())[job.pk].costs
    request = rf.get("/")
    request.user = make_person(role)
    overdue = warned_address(request, job, costs, CostWarning("overdue", "5.00 is overdue."))
    assert overdue == (reverse("since_signed", args=[job.pk]) if leads else "")
    step = warned_address(request, job, costs, CostWarning("after_done", "All work.", item="All work"))
    assert step == f"/jobs/{job.pk}/price/money/labour/?item=All%20work"


def test_a_job_nobody_accepted_says_so(as_):
    owner = as_("owner")
    page = owner.get(reverse("job_money", args=[small_job().pk])).content.decode()
    assert "No quote of this job is accepted yet" in page
    assert owner.get("/api/jobs/J-0100/costs").status_code == 409


@pytest.mark.both_engines
def test_what_is_said_is_left_counts_and_is_said_once(job, as_):
    owner = as_("owner")
    answers = [owner.post("/api/jobs/J-0100/costs/left", LEFT, content_type="application/json") for _ in range(2)]
    assert [answer.status_code for answer in answers] == [201, 200]
    item = next(entry for entry in owner.get(ADDRESSES[0]).json()["items"] if entry["item"] == "Delivery")
    assert (item["agreed"], item["to_complete"]) == ("240.00", "99.50")
    assert SaidLeft.objects.count() == 1


def test_a_key_sent_with_something_else_is_refused(job, as_):
    owner = as_("owner")
    owner.post("/api/jobs/J-0100/costs/left", LEFT, content_type="application/json")
    answer = owner.post("/api/jobs/J-0100/costs/left", LEFT | {"amount": "1.00"}, content_type="application/json")
    assert answer.status_code == 409 and "something else" in answer.content.decode()


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"item": "Crane"}, '"Crane" is not an item of other here; they are Delivery'),
        ({"how": "nothing_more"}, "leave it empty"),
        ({"amount": "-1"}, "0 or more"),
        ({"amount": "NaN"}, "amount"),
        ({"reason": " "}, "reason"),
        ({"category": "wages"}, "category"),
    ],
)
def test_what_cannot_be_said_names_its_field(job, as_, change, message):
    answer = as_("owner").post("/api/jobs/J-0100/costs/left", LEFT | change, content_type="application/json")
    assert answer.status_code == 400 and message in answer.content.decode().replace('\\"', '"')


def test_an_item_is_reckoned_again_once_somebody_says_so(job, as_):
    owner = as_("owner")
    page = f"{reverse('money_item', args=[job.pk, 'other'])}?item=Delivery"
    for key, how in (("a", "nothing_more"), ("b", "as_reckoned")):
        sent = {"request_key": key, "how": how, "amount": "", "reason": "As it stands"}
        assert owner.post(page, sent).status_code == 302
        item = next(entry for entry in owner.get(ADDRESSES[0]).json()["items"] if entry["item"] == "Delivery")
        assert item["to_complete"] == {"nothing_more": "0.00", "as_reckoned": "240.00"}[how]


def test_a_form_without_a_reason_stays_open_with_what_was_typed(job, as_):
    page = f"{reverse('money_item', args=[job.pk, 'other'])}?item=Delivery"
    answer = as_("owner").post(page, {"request_key": "a", "how": "amount", "amount": "120.00"})
    assert answer.status_code == 422 and "120.00" in answer.content.decode()


@pytest.mark.parametrize("item", ["", "nothing", "x" * 500])
def test_an_item_that_is_none_is_not_found(job, as_, item):
    assert as_("owner").get(reverse("money_item", args=[job.pk, "other"]), {"item": item}).status_code == 404


@pytest.mark.both_engines
def test_a_figure_opens_to_its_rows_and_each_leads_to_where_it_was_entered(job, as_):
    owner = as_("owner")
    hours, goods = (
        owner.get(reverse("money_item", args=[job.pk, category]), {"item": item}).content.decode()
        for category, item in (("labour", "All work"), ("materials", "as entered"))
    )
    entry, bill = job.time_entries.get(), job.bill_lines.get().bill
    assert reverse("time_entry", args=[entry.pk]) in hours and entry.entered_by_name in hours
    assert reverse("bill", args=[bill.pk]) in goods and bill.entered_by_name in goods
    assert all(
        owner.get(reverse(name, args=[row.pk])).status_code == 200
        for name, row in (("time_entry", entry), ("bill", bill))
    )
