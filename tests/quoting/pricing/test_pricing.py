from copy import deepcopy
from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest
from django.db import DatabaseError, IntegrityError, connection, transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import DocumentError, Reader
from jobs.jobs.services.versions import ChangedMeanwhile
from quoting.core.quotes.firm_texts import BLOCKS
from quoting.core.quotes.job_file import PricingSpec
from quoting.job_files.services.job_files import export_job_file, work_up_job
from quoting.pricing.models import CostEntry, InstalmentTerm, Pricing, TaxRate
from quoting.pricing.models.shares import MAX_PARTS, ShareTooFine, join_share, split_share
from quoting.pricing.services.pricing import (
    fill_from_usual,
    pricing_document,
    pricing_of,
    save_pricing,
    spec_of,
    store_pricing,
)
from quoting.pricing.services.taxes import labour_rates_in_force, set_labour_rate, set_tax_rate, tax_in_force
from tests.documents import JOBS, document
from tests.support.worked import PRICING, TODAY

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]

MARKUP = {
    "policy": {"mode": "markup", "markup": {"materials": "0.3", "labour": "0.65", "other": "0"}},
    "materials": "takeoff",
    "labour": [{"what": "Frame", "hours": "12.25", "rate": "47", "wall": "Screen"}],
    "tax": {"name": "VAT", "rate": "0.2", "applies_to": "materials", "basis": "line"},
    "deposit": {"share": "1/3", "covers_special_orders": True, "legal_share": "0.1", "legal_amount": "1000"},
    "special_order_cost": "4260.00",
    "instalments": [{"event": "Start", "share": "0.125"}, {"event": "End", "share": "7/8"}],
    "valid_days": 365,
    "terms": ["One", "Two"],
    "assumptions": ["A level floor"],
}
LIMITED = {
    "policy": {"mode": "margin", "target_margin": "0", "minimum_margin": "0.25"},
    "materials": {"amount": "0.01"},
    "deposit": {"share": "0.1", "at_most": "1000.00"},
}


def saved(job, value, **more):
    return save_pricing(job, deepcopy(value), **({"seen_version": None, "on_day": TODAY} | more))


@pytest.mark.parametrize("value", [PRICING, MARKUP, LIMITED])
def test_a_pricing_is_read_back_as_it_was_written(job, value):
    saved(job, value)
    spec, missing = spec_of(pricing_of(job), TODAY)
    assert missing == ""
    assert write(spec) == write(read(PricingSpec, Reader(deepcopy(value))))


@pytest.mark.parametrize("value", [MARKUP, LIMITED, PRICING])
def test_changing_it_leaves_nothing_of_what_it_was(job, value):
    saved(job, {**MARKUP, "inclusions": ["gone"], "cautions": ["gone"]})
    saved(job, value)
    assert write(spec_of(pricing_of(job), TODAY)[0]) == write(read(PricingSpec, Reader(deepcopy(value))))


@pytest.mark.parametrize("name", JOBS)
def test_what_a_screen_is_given_it_can_give_back(job, name):
    value = document(f"jobs/{name}.json")["pricing"]
    value["labour"] = [{**entry, "wall": ""} for entry in value["labour"]]
    shown = pricing_document(saved(job, value), TODAY)
    saved(job, shown)
    assert pricing_document(pricing_of(job), TODAY) == shown


def test_of_two_who_change_the_same_version_the_second_is_told(job):
    seen = pricing_of(job).version
    saved(job, LIMITED, seen_version=seen)
    with pytest.raises(ChangedMeanwhile):
        saved(job, MARKUP, seen_version=seen)
    assert pricing_of(job).mode == "margin"


def test_who_asks_no_version_writes_over_it(job):
    """The control: without the guard the second change goes through."""
    saved(job, LIMITED)
    saved(job, MARKUP)
    assert pricing_of(job).mode == "markup"


def test_a_pricing_that_changes_is_kept_in_its_history(job):
    saved(job, MARKUP)
    stored = pricing_of(job).history.order_by("history_id")
    assert stored.first().mode == "margin"
    assert stored.last().mode == "markup"


def test_deleting_a_wall_leaves_its_cost_with_the_job(job):
    saved(job, MARKUP)
    job.walls.get().delete()
    assert CostEntry.objects.get().wall is None


@pytest.mark.parametrize(
    ("change", "path"),
    [
        ({"policy": {"mode": "margin", "target_margin": "0.3800001"}}, "policy.target_margin"),
        ({"policy": {"mode": "markup", "markup": {"labour": "0.0000001"}}}, "policy.markup.labour"),
        ({"instalments": [{"event": "a", "share": "0.1234567"}, {"event": "b", "share": "0.8765433"}]},
         "instalments[0].share"),
        ({"valid_days": 0}, "valid_days"),
        ({"valid_days": 366}, "valid_days"),
        ({"tax": {"name": "Never heard of"}}, "tax.name"),
        ({"tax": {"name": "Sales tax", "rate": "1.01"}}, "tax.rate"),
        ({"tax": {"name": "Sales tax", "rte": "0.1"}}, "tax.rte"),
        ({"labour": [{"what": "x", "hours": "-1", "rate": "1"}]}, "labour[0].hours"),
        ({"labour": [{"what": "x", "hours": "NaN", "rate": "1"}]}, "labour[0].hours"),
        ({"labour": [{"what": "x", "hours": 1e308, "rate": "1"}]}, "labour[0].hours"),
    ],
)  # fmt: skip
def test_a_wrong_figure_is_named_by_its_path_and_changes_nothing(job, change, path):
    before = pricing_document(pricing_of(job), TODAY)
    with pytest.raises(DocumentError) as refusal:
        saved(job, PRICING | change)
    assert path in [complaint.path for complaint in refusal.value.complaints]
    assert pricing_document(pricing_of(job), TODAY) == before


def test_a_tax_given_by_name_has_the_rate_of_the_day(job):
    for rate, day in (("0.12", "2026-01-01"), ("0.13", "2026-12-01")):
        set_tax_rate({"name": "Sales tax", "rate": rate, "starts_on": day})
    saved(job, PRICING | {"tax": {"name": "Sales tax"}})
    taxes = [work_up_job(job, day).quote.pricing.tax.rate for day in (date(2026, 11, 30), date(2026, 12, 1))]
    assert taxes == [Decimal("0.12"), Decimal("0.13")]


def test_a_rate_of_the_jobs_own_stands_before_the_one_of_the_day(job):
    set_tax_rate({"name": "Sales tax", "rate": "0.2", "starts_on": "2026-01-01"})
    assert work_up_job(job, TODAY).quote.pricing.tax.rate == Decimal("0.13")


def test_a_tax_without_a_rate_on_the_day_is_a_gap_and_never_zero(job):
    set_tax_rate({"name": "Sales tax", "rate": "0.13", "starts_on": "2027-01-01"})
    saved(job, PRICING | {"tax": {"name": "Sales tax"}})
    quote = work_up_job(job, TODAY).quote
    assert quote.priced is None
    assert [finding.key for finding in quote.blocking] == ["pricing/tax"]
    assert "No rate of Sales tax is in force on Wed 25 Nov 2026" in quote.blocking[0].sentence
    with pytest.raises(DocumentError, match="No rate of Sales tax"):
        export_job_file(job, TODAY)


def test_the_first_day_of_a_rate_is_its_own(db):
    set_tax_rate({"name": "VAT", "rate": "0.2", "starts_on": "2026-07-01"})
    assert tax_in_force("VAT", date(2026, 6, 30)) is None
    assert tax_in_force("VAT", date(2026, 7, 1)).rate == Decimal("0.2")


def test_a_rate_of_the_same_day_is_changed_and_the_old_one_kept_in_its_history(db):
    for rate in ("0.2", "0.21"):
        set_tax_rate({"name": "VAT", "rate": rate, "starts_on": "2026-07-01"})
    row = TaxRate.objects.get()
    assert row.rate == Decimal("0.21")
    assert [stored.rate for stored in row.history.order_by("history_id")] == [Decimal("0.2"), Decimal("0.21")]


def test_labour_rates_are_those_of_the_day(db):
    for rate, day in (("45.50", "2026-01-01"), ("47.00", "2026-07-01")):
        set_labour_rate({"name": "Carpenter", "rate": rate, "starts_on": day})
    assert [row.rate for row in labour_rates_in_force(date(2026, 6, 30))] == [Decimal("45.50")]
    assert [row.rate for row in labour_rates_in_force(date(2026, 7, 1))] == [Decimal("47.00")]
    assert labour_rates_in_force(date(2025, 12, 31)) == []


def without_sentences(pricing):
    return {name: entry for name, entry in pricing.items() if name not in BLOCKS}


def test_a_new_job_is_priced_the_usual_way(job):
    set_tax_rate({"name": "Sales tax", "rate": "0.13", "starts_on": "2026-01-01"})
    saved(None, without_sentences(LIMITED) | {"tax": {"name": "Sales tax"}, "valid_days": 14})
    Pricing.objects.filter(job=job).delete()
    filled = fill_from_usual(job)
    assert pricing_document(pricing_of(job), TODAY) == pricing_document(pricing_of(None), TODAY)
    saved(job, MARKUP)
    assert fill_from_usual(job).pk == filled.pk
    assert pricing_of(job).mode == "markup"


def test_the_usual_pricing_holds_no_costs(db):
    with pytest.raises(DocumentError, match="belong to a job"):
        saved(None, without_sentences(PRICING))


def test_without_a_usual_pricing_a_job_says_so(job):
    Pricing.objects.all().delete()
    with pytest.raises(DocumentError, match="usual pricing is not entered"):
        fill_from_usual(job)


def test_the_firm_has_one_usual_pricing_and_a_job_one_of_its_own(job):
    saved(None, LIMITED)
    for owner in (None, job):
        with pytest.raises(IntegrityError), transaction.atomic():
            Pricing.objects.create(job=owner, mode="margin", target_margin="0.3", tax_name="x")


NUMBERS = [
    ("quoting_pricing", "target_margin"), ("quoting_pricing", "minimum_margin"), ("quoting_pricing", "tax_rate"),
    ("quoting_pricing", "entered_materials"), ("quoting_pricing", "special_order_cost"),
    ("quoting_pricing", "valid_days"), ("quoting_pricing", "version"),
    ("quoting_costentry", "quantity"), ("quoting_costentry", "unit_cost"), ("quoting_costentry", "order"),
    ("quoting_instalmentterm", "share_count"), ("quoting_instalmentterm", "share_parts"),
    ("quoting_depositterm", "share_count"), ("quoting_depositterm", "legal_amount"),
    ("quoting_depositterm", "legal_share_parts"), ("quoting_quotetext", "order"),
    ("quoting_taxrate", "rate"), ("quoting_labourrate", "rate"),
]  # fmt: skip
BAD = {
    "postgresql": ("'NaN'", "'Infinity'", "'-Infinity'", "1e308", "-1e308", "-1"),
    "sqlite": ("9e999", "-9e999", "1e308", "-1e308", "'NaN'", "'text'", "x'00'", "-1"),
}


def test_no_number_of_a_pricing_holds_what_is_no_number(job):
    set_tax_rate({"name": "VAT", "rate": "0.2", "starts_on": "2026-07-01"})
    set_labour_rate({"name": "Carpenter", "rate": "45.50", "starts_on": "2026-01-01"})
    saved(job, MARKUP | {"policy": PRICING["policy"] | {"minimum_margin": "0.3"}, "materials": PRICING["materials"]})
    rows = []
    for table, column in NUMBERS:
        for value in BAD[connection.vendor]:
            try:
                with transaction.atomic(), connection.cursor() as cursor:
                    cursor.execute(f'UPDATE {table} SET "{column}" = {value} WHERE "{column}" IS NOT NULL')
                    assert cursor.rowcount > 0, f"no row holds a {column}: the test would prove nothing"
            except DatabaseError:
                continue
            rows.append((table, column, value))
    assert rows == []


def test_a_figure_within_its_bounds_is_kept(job):
    """The control of the test before."""
    assert Pricing.objects.filter(job=job).update(target_margin="0.99", valid_days=365) == 1
    assert InstalmentTerm.objects.update(share_count=1, share_parts=1) == 3


def test_a_margin_and_markups_exclude_one_another(job):
    for wrong in ({"markup_labour": "0.5"}, {"mode": "markup"}, {"target_margin": None}):
        with pytest.raises(IntegrityError, match="mode_and_figures"), transaction.atomic():
            Pricing.objects.filter(job=job).update(**wrong)


@given(st.fractions(0, 1, max_denominator=10**9))
def test_a_fraction_is_kept_exactly(share):
    assert Fraction(join_share(*split_share(share))) == share


@given(st.decimals(0, 1, places=6))
def test_a_decimal_of_six_places_is_kept_exactly_and_stays_a_decimal(share):
    stored = join_share(*split_share(share))
    assert isinstance(stored, Decimal)
    assert stored == share


@pytest.mark.parametrize("share", [Decimal("0.1234567"), Fraction(1, MAX_PARTS + 1)])
def test_a_share_that_cannot_be_kept_is_refused(share):
    with pytest.raises(ShareTooFine, match="too fine"):
        split_share(share)


amounts = st.decimals(0, 1_000_000, places=2)
costs = st.fixed_dictionaries(
    {"what": st.text("abc ", min_size=1).filter(str.strip), "hours": st.decimals(0, 1000, places=6), "rate": amounts}
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=25, deadline=None)
@given(labour=st.lists(costs, max_size=4), materials=amounts, margin=st.decimals(0, "0.99", places=4))
def test_any_costs_are_stored_to_the_cent(job, labour, materials, margin):
    value = {
        "policy": {"mode": "margin", "target_margin": str(margin)},
        "materials": {"amount": str(materials)},
        "labour": [{**entry, "hours": str(entry["hours"]), "rate": str(entry["rate"])} for entry in labour],
    }
    spec = read(PricingSpec, Reader(value))
    store_pricing(job, spec)
    assert spec_of(pricing_of(job), TODAY)[0].costs == spec.costs
