"""A price below the least margin, an unanswered checklist, a price without labour: none is issued by one alone."""

from datetime import UTC, datetime
from decimal import Decimal

import pytest
from django.db import DatabaseError, IntegrityError, transaction

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.models import Firm
from quoting.core.prices.checklist import LABOUR
from quoting.job_files.services.job_files import export_job_file, figures_mark, job_file_of, work_up_job
from quoting.platform.people.signatures import Signature
from quoting.pricing.models import MarginApproval, Pricing
from quoting.pricing.services.least_margin import with_approval
from quoting.pricing.services.pricing import pricing_document, pricing_of, save_pricing
from quoting.pricing.services.taxes import set_labour_rate
from quoting.quotes.models import RevisionApproval
from quoting.quotes.services.margin_approval import approve_margin
from quoting.quotes.services.snapshots import snapshot_of
from tests.support.worked import ANSWERED, NOW, PRICING, TODAY, estimator, issued, small_job

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
LOW = {"policy": {"mode": "margin", "target_margin": "0.2", "minimum_margin": "0.3"}}


@pytest.fixture
def job():
    return small_job()


def saved(job, **changes):
    signature = Signature("R. Sallow", TODAY)
    save_pricing(job, PRICING | changes, seen_version=None, on_day=TODAY, signature=signature)
    return job


def approved(job, by="second", **more):
    wanted = {"seen_mark": figures_mark(job_file_of(job, TODAY), TODAY), "reason": "An old client", "now": NOW}
    return approve_margin(job, **(wanted | {"by": estimator(by), "today": TODAY} | more))


def test_below_the_least_margin_a_second_person_approves_and_it_is_frozen_with_the_revision(job):
    saved(job, **LOW)
    with pytest.raises(Refused, match="below the firm's least margin"):
        issued(job)
    approval = approved(job)
    # 8,582.00 / 0.8 = 10,727.50; at 30 % it would be 12,260.00: 1,532.50 short, by hand.
    assert (approval.price, approval.shortfall) == (Decimal("10727.50"), Decimal("1532.50"))
    revision = issued(job)
    assert revision.margin_approval.approval == approval
    for row in (approval, revision.margin_approval):
        with pytest.raises(DatabaseError), transaction.atomic():
            type(row).objects.filter(pk=row.pk).delete()


def test_who_approves_does_not_issue(job):
    approved(saved(job, **LOW), by="sallow")
    with pytest.raises(Refused, match="approved it yourself"):
        issued(job)
    approved(job, by="third")
    assert issued(job).margin_approval.approved_by == estimator("third")


def test_an_approval_is_told_by_the_day_it_was_at_the_firm(job):
    Firm.objects.update(time_zone="America/New_York")
    # 23:30 on the 25th in New York (UTC-5 in winter, IANA Time Zone Database).
    approved(saved(job, **LOW), now=datetime(2026, 11, 26, 4, 30, tzinfo=UTC))
    work_up = work_up_job(job, TODAY)
    sentences = [finding.sentence for finding in with_approval(job, work_up.quote).findings]
    assert any("Approved by R. Sallow on Wed 25 Nov 2026: An old client" in text for text in sentences)


def test_the_database_itself_wants_two_people(job):
    approval, person = approved(saved(job, **LOW)), estimator()
    revision = issued(job)
    other = issued(saved(job), "next")
    people = {"revision": other, "approval": approval, "issued_by": person}
    with pytest.raises(IntegrityError), transaction.atomic():
        RevisionApproval.objects.create(**people, approved_by=person)
    # The control: of two people it is taken.
    assert RevisionApproval.objects.create(**people, approved_by=estimator("second")).pk
    assert revision.margin_approval.issued_by == person


def test_an_approval_holds_for_no_figures_that_ask_more(job):
    approved(saved(job, **LOW))
    issued(saved(job, policy=LOW["policy"] | {"target_margin": "0.21"}))
    with pytest.raises(Refused, match="least margin"):
        issued(saved(job, policy=LOW["policy"] | {"target_margin": "0.19"}), "lower")
    with pytest.raises(Refused, match="least margin"):
        issued(saved(job, **LOW, subcontract=[{"what": "Painting", "amount": "6500.00"}]), "larger")


def test_what_changed_since_it_was_shown_is_not_approved(job):
    seen = figures_mark(job_file_of(saved(job, **LOW), TODAY), TODAY)
    saved(job, policy=LOW["policy"] | {"target_margin": "0.1"})
    with pytest.raises(Refused, match="have changed"):
        approved(job, seen_mark=seen)
    assert not MarginApproval.objects.exists()


def test_a_job_cannot_ask_for_less_than_the_firm(job):
    firm = {"policy": {"mode": "margin", "target_margin": "0.4", "minimum_margin": "0.35"}}
    save_pricing(None, {"materials": "takeoff", **firm}, seen_version=None, on_day=TODAY)
    saved(job, policy={"mode": "margin", "target_margin": "0.32", "minimum_margin": "0.1"})
    assert work_up_job(job, TODAY).quote.gate.least == Decimal("0.35")
    # The control, and the file as it was entered: nothing of the firm's is written into it.
    assert export_job_file(job, TODAY)["pricing"]["policy"]["minimum_margin"] == "0.1"


def test_some_choice_of_options_below_the_least_margin_is_enough(job):
    option = {"key": "gift", "title": "Extra coat", "price": "100.00", "cost": "4000.00"}
    saved(job, policy={"mode": "margin", "target_margin": "0.38", "minimum_margin": "0.3"}, options=[option])
    gate = work_up_job(job, TODAY).quote.gate
    # 12,582.00 / 0.7 = 17,974.29 less 13,941.94 is 4,032.35, by hand.
    assert (gate.with_options, gate.shortfall) == (True, Decimal("4032.35"))


def test_what_gets_forgotten_is_answered_before_issue(job):
    saved(job, checklist=ANSWERED[1:])
    with pytest.raises(Refused, match=r"extras: Delivery\. For each: amount"):
        issued(job)
    saved(job, checklist=[*ANSWERED[1:], {"item": "Delivery", "answer": "cost", "where": "Crane"}])
    with pytest.raises(Refused, match='no line of cost "Crane"'):
        issued(job)
    saved(job, checklist=[*ANSWERED[1:], {"item": "Delivery", "answer": "cost", "where": "Delivery"}])
    assert issued(job).pk


def test_a_dismissal_is_signed_by_who_makes_it_and_keeps_the_name(job):
    row = {"item": "Delivery", "answer": "dismissed", "reason": "They fetch it"}
    forged = row | {"by": "Somebody Else", "on": "2020-01-01"}
    for answer in (row, forged):
        saved(job, checklist=[*ANSWERED[1:], answer])
        stored = pricing_of(job).checklist.get(item="Delivery")
        assert (stored.by, stored.on) == ("R. Sallow", TODAY)
    save_pricing(
        job, pricing_document(pricing_of(job), TODAY), seen_version=None, on_day=TODAY,
        signature=Signature("Another", TODAY),
    )  # fmt: skip
    assert pricing_of(job).checklist.get(item="Delivery").by == "R. Sallow"


def test_a_price_without_labour_waits_for_a_name(job):
    with pytest.raises(Refused, match="holds no labour"):
        issued(saved(job, labour=[]))
    named = {"item": LABOUR, "answer": "dismissed", "reason": "The client's own people build it"}
    assert issued(saved(job, labour=[], checklist=[*ANSWERED, named])).pk


def test_the_firms_list_is_asked_beside_the_jobs_own(job):
    policy = {"mode": "margin", "target_margin": "0.4"}
    usual = {"materials": "takeoff", "policy": policy, "checklist": [{"item": "Scaffold"}]}
    save_pricing(None, usual, seen_version=None, on_day=TODAY)
    with pytest.raises(Refused, match="Scaffold"):
        issued(saved(job))


def test_terms_are_read_back_as_they_were_written_and_priced_to_the_cent(job):
    terms = {
        "overhead": {"share_of_cost": "0.1", "per_labour_hour": None},
        "contingency": {"share": "0.05", "shown": True},
        "allowances": [{"what": "Lamp", "amount": "500.00", "category": "materials", "cost": None, "over_markup": "0"}],
        "options": [
            {"key": "oak", "title": "Oak cap", "price": "480.00", "cost": "300.00", "text": "", "group": "Cap",
             "materials_price": None, "special_order_cost": "120.00", "build": None},
            {"key": "two", "title": "Two layers", "text": "", "group": "", "price": None, "cost": None,
             "materials_price": None, "special_order_cost": "0.00",
             "build": {"faces": [{"wall": None, "face": None, "layers": 2, "board": None, "level": None}],
                       "trims": []}},
        ],
    }  # fmt: skip
    saved(job, **terms)
    document = pricing_document(pricing_of(job), TODAY)
    assert {name: document[name] for name in terms} == terms
    quote = work_up_job(job, TODAY).quote
    # 8,582.00 + 858.20 + 429.10 = 9,869.30; / 0.62 = 15,918.23; with the lamp 16,418.23. By hand.
    assert quote.priced.price == Decimal("16418.23")
    assert [line.section for line in quote.priced.lines][-2:] == ["Contingency", "Allowance: Lamp"]
    frozen = snapshot_of(issued(job))
    assert [entry["key"] for entry in frozen["offer"]["options"]] == ["oak", "two"]


def test_a_labour_rate_by_name_is_that_of_the_day(job):
    for rate, day in (("47.00", "2026-01-01"), ("50.00", "2026-12-01")):
        set_labour_rate({"name": "Carpenter", "rate": rate, "starts_on": day})
    labour = [{"what": "All work", "hours": "96", "rate_of": "Carpenter"}]
    saved(job, labour=labour)
    days = (TODAY, TODAY.replace(month=12, day=1))
    assert [work_up_job(job, day).quote.priced.cost for day in days] == [Decimal("8582.00"), Decimal("8870.00")]
    assert pricing_document(pricing_of(job), TODAY)["labour"][0]["rate_of"] == "Carpenter"
    with pytest.raises(DocumentError, match="has no rate entered"):
        saved(job, labour=[labour[0] | {"rate_of": "Nobody"}])
    assert Pricing.objects.get(job=job).costs.first().rate_name == "Carpenter"


def test_the_worksheet_of_the_worked_wage_gives_47_04():
    """The worked wage of the trade rules: 87,205.60 over 1,854 h."""
    sheet = {"wage": "32.00", "payroll_tax_rate": "0.1125", "insurance_rate": "0.085", "health_per_year": "6000",
             "other_per_year": "1500", "paid_hours": "2080", "unproductive_hours": "226"}  # fmt: skip
    row = set_labour_rate({"name": "Carpenter", "starts_on": "2026-01-01", "worksheet": sheet})
    row.refresh_from_db()
    assert row.rate == row.worked_out().cost_per_hour == Decimal("47.04")
    assert row.worked_out().yearly_cost == Decimal("87205.60")
    with pytest.raises(DocumentError, match="worksheet"):
        set_labour_rate({"name": "X", "starts_on": "2026-01-01", "worksheet": sheet | {"paid_hours": "226"}})
