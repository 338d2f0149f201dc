"""A firm that was there before: what a later version asks of it is stated, and what it has entered stays."""

from importlib import import_module

import pytest
from django.apps import apps

from catalog.models import Material, Standard
from catalog.services.catalog_file import store_book
from tests.documents import starter

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def firm():
    store_book(starter(), on_known="keep")


def test_a_firm_there_already_is_proposed_days_from_half_a_day_on():
    state = import_module("catalog.migrations.0010_days_of_a_change").state_starter_figure
    Standard.objects.filter(name="change_days_from").delete()
    state(apps, None)
    assert Standard.objects.get(name="change_days_from").value == 0.5
    Standard.objects.filter(name="change_days_from").update(value=2)
    state(apps, None)
    assert Standard.objects.get(name="change_days_from").value == 2


def test_starter_profiles_without_a_card_say_where_they_are_used_and_a_card_stays():
    state = import_module("catalog.migrations.0011_where_starter_profiles_are_used").state_positions
    Material.objects.filter(code="BASE-514-FLEX").update(profile=None)
    Material.objects.filter(code="REVEAL-58").update(profile={"shape": "Ours"})
    state(apps, None)
    assert Material.objects.get(code="BASE-514-FLEX").to_core().profile.positions == ("base",)
    assert Material.objects.get(code="REVEAL-58").profile == {"shape": "Ours"}


def test_a_firm_there_already_gets_the_tolerances_of_confirmations_and_keeps_its_own():
    state = import_module("catalog.migrations.0012_tolerances_of_confirmations").state_starter_figures
    tolerances = Standard.objects.filter(name__startswith="confirmed_")
    tolerances.exclude(name="confirmed_radius_tolerance_mm").delete()
    tolerances.update(value=3)
    state(apps, None)
    assert {name: float(value) for name, value in tolerances.values_list("name", "value")} == {
        "confirmed_length_tolerance_mm": 1.5875,
        "confirmed_radius_tolerance_mm": 3,
        "confirmed_price_tolerance": 0,
        "confirmed_days_tolerance": 0,
    }


def test_a_firm_there_already_reclaims_the_tax_on_bills_until_it_says_otherwise():
    state = import_module("catalog.migrations.0013_reclaimed_tax").state_starter_figure
    Standard.objects.filter(name="reclaimed_tax_share").delete()
    state(apps, None)
    assert Standard.objects.get(name="reclaimed_tax_share").value == 1
    Standard.objects.filter(name="reclaimed_tax_share").update(value=0)
    state(apps, None)
    assert Standard.objects.get(name="reclaimed_tax_share").value == 0
