from importlib import import_module

import pytest
from django.apps import apps

from catalog.models import MaterialFact, SpacingStep, Standard
from catalog.services.catalog_file import store_book
from tests.documents import starter

pytestmark = pytest.mark.django_db
MANUAL = "US Navy Builder manual NAVEDTRA 14044"
STEEL = "Design thickness of 43 mil steel, 0.0451 in, less 5 % for the least: "


def set_right():
    import_module("catalog.migrations.0006_sources_and_framing_standards").set_right(apps, None)


def test_a_firm_already_there_gets_true_sources_and_the_new_standards():
    store_book(starter(), on_known="keep")
    Standard.objects.filter(name="closest_spacing_share").delete()
    Standard.objects.filter(name="screw_penetration_mm").update(source=f"{MANUAL}: 3/8 in", sure="published")
    SpacingStep.objects.filter(spacing_mm="406.4").update(source=f"{MANUAL}: 16 in on gentle curves", sure="published")
    MaterialFact.objects.filter(value="1.0883").update(value="1.0922", source=f"{STEEL}0.0430 in")
    set_right()
    assert Standard.objects.get(name="closest_spacing_share").value == 0.25
    assert Standard.objects.get(name="screw_penetration_mm").sure == "practice"
    assert SpacingStep.objects.get(spacing_mm="406.4").sure == "practice"
    # 0.95 x 0.0451 in x 25.4 = 1.0883 mm.
    assert MaterialFact.objects.get(value="1.0883").source == f"{STEEL}0.0428 in"


def test_a_figure_the_firm_has_changed_stays_as_it_is():
    store_book(starter(), on_known="keep")
    Standard.objects.filter(name="screw_penetration_mm").update(source="Our own", sure="firm")
    Standard.objects.filter(name="closest_spacing_share").update(value="0.4")
    set_right()
    assert Standard.objects.get(name="screw_penetration_mm").source == "Our own"
    assert float(Standard.objects.get(name="closest_spacing_share").value) == 0.4
