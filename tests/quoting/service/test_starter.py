import pytest

from catalog.models import LeadTerm, Material, MaterialFact, Price, Supplier
from catalog.services.book import kit_of
from catalog.services.firm import save_firm
from catalog.services.materials import store_materials
from quoting.job_files.services.job_files import work_up_job
from quoting.service.services.starter import start_from_starter
from quoting.texts.models import NoticePack, StandardText
from tests.documents import starter
from tests.support.worked import PRICING, TODAY, small_job

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
FIRM = {"name": "Sedge", "time_zone": "Etc/UTC", "currency": "EUR", "cushion_workdays": 3, "sign_off_workdays": 5}


@pytest.fixture
def firm(db):
    return save_firm(FIRM | {"display_units": "metric"})


def test_the_starter_list_brings_no_supplier_promise_or_notice_and_every_price_says_it_is_invented(firm):
    assert start_from_starter() == len(starter().materials)
    assert set(Price.objects.values_list("source", flat=True)) == {"Starter price, invented: enter your own"}
    assert not MaterialFact.objects.filter(source__startswith="Starter figure").exclude(sure="memory").exists()
    assert MaterialFact.objects.filter(
        source__startswith="Gypsum Association GA-226-08, Table 1", sure="published"
    ).exists()
    assert not Supplier.objects.exists() and not LeadTerm.objects.exists() and not NoticePack.objects.exists()
    assert set(StandardText.objects.values_list("block", flat=True)) == {"access", "assumptions", "cautions"}


def test_what_the_firm_has_already_stays_and_a_second_time_adds_nothing(firm):
    own = starter().materials["TAPE-PAPER"]
    store_materials([own.__class__(**{**vars(own), "name": "Our tape", "supplier": None, "packs": ()})])
    assert start_from_starter() == len(starter().materials) - 1
    assert Material.objects.get(code="TAPE-PAPER").name == "Our tape"
    assert kit_of()["tape"] == ("TAPE-PAPER",)
    assert start_from_starter() == 0


@pytest.mark.parametrize(("source", "warned"), [("Starter price, invented: enter your own", True), ("Ours", False)])
def test_a_quote_that_rests_on_an_invented_price_says_so(source, warned):
    job = small_job(pricing=PRICING | {"materials": "takeoff"})
    Price.objects.filter(pack__material__code="STUD-358").update(source=source)
    message = [
        finding for finding in work_up_job(job, TODAY).quote.findings if finding.key == "pricing/invented-prices"
    ]
    assert [entry.weight for entry in message] == (["caution"] if warned else [])
    assert all("Steel stud, 3-5/8 in" in entry.sentence for entry in message)
