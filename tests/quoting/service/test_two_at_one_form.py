"""Two people who open one form: the second is told what the first saved, and loses nothing of their own."""

import re
from html import unescape

import pytest
from django.test import Client as Browser
from django.urls import reverse

from catalog.models import Material, Supplier
from jobs.jobs.models import Client
from quoting.texts.models import NoticePack, StandardText
from quoting.texts.services.firm_texts import set_notice, set_standard_text
from tests.stored import stored_job
from tests.support.desk import fields_of

pytestmark = pytest.mark.usefixtures("frozen_clock")
SENTENCE = {"block": "warranty", "text": "Twelve months.", "starts_on": "2026-01-01"}
NOTICE = {"place": "Sallow Reach", "language": "en", "version": "1", "title": "Notice", "text": "You may cancel."}
TERMS = {"source": "telephone", "stated_on": "2026-10-01"}
FIVE_DAYS = TERMS | {"claim_days": "5"}
# The form, whose it is, what the first changes and what the second does.
FORMS = {
    "client": ("client_change", lambda: Client.objects.get().pk, {"phone": "555 0101"}, {"email": "desk@a.invalid"}),
    "firm": ("firm_change", None, {"name": "Wendrell & Sons"}, {"contact": "555 0199"}),
    "supplier": ("supplier_change", lambda: supplier().pk, {"email": "new@mill.invalid"}, {"note": "Ring first."}),
    "material": ("material_change", lambda: material().pk, {"waste": "12"}, {"note": "Keep it dry."}),
    "person": ("person_change", lambda: person.pk, {"full_name": "Kit Orme"}, {"role": "office"}),
    "order terms": (
        "order_terms_set",
        lambda: supplier().pk,
        {"claim_days": "5", **TERMS},
        {"freight": "80.00", **TERMS},
    ),
    "sentence": ("standard_text", lambda: sentence().key, {"text": "Two years."}, {"text": "Three years."}),
    "notice": ("notice", lambda: notice().pk, {"title": "Your right"}, {"source": "Our adviser, in May."}),
    "standard": ("standard_set", lambda: "curve_factor", {"source": "Our own record"}, {"sure": "firm"}),
    "figure": ("fact_set", lambda: (material().pk, "least_radius_mm"), {"source": "A"}, {"source": "B"}),
    "times of mail": ("alert_times", None, {"list_at": "06:00"}, {"days_ahead": "8"}),
}
person = None


def supplier():
    return Supplier.objects.order_by("pk").first()


def material():
    return Material.objects.filter(facts__name="least_radius_mm").order_by("pk").first()


def sentence():
    return StandardText.objects.first() or set_standard_text(SENTENCE)


def notice():
    return NoticePack.objects.first() or set_notice(NOTICE | {"starts_on": "2026-01-01", "source": "Our adviser"})


@pytest.fixture(autouse=True)
def firm(make_person):
    global person
    stored_job("larkmoor-dental")
    person = make_person("lead", "kit")


@pytest.fixture
def both(make_person):
    browsers = Browser(), Browser()
    for browser, name in zip(browsers, ("ann", "ben"), strict=True):
        browser.force_login(make_person("owner", name))
    return browsers


def typed_in(response):
    """What the browser would send of the form as it came."""
    key = re.findall(r'name="form_key" value="(\w+)"', response.content.decode())[-1]
    shown = fields_of(response.context["form"])
    return {name: value if isinstance(value, list) else str(value) for name, value in shown.items()} | {"form_key": key}


def address_of(name, whose):
    where = whose() if whose else ()
    return reverse(name, args=where if isinstance(where, tuple) else [where])


@pytest.mark.parametrize("noun", FORMS)
def test_the_second_is_told_and_saves_knowingly(noun, both):
    name, whose, first, second = FORMS[noun]
    (ann, ben), url = both, address_of(name, whose)
    hers, his = (typed_in(browser.get(url)) for browser in both)
    assert ann.post(url, hers | first).status_code == 302
    late = ben.post(url, his | second)
    assert late.status_code == 409
    assert "ann saved “" in unescape(late.content.decode())
    assert typed_in(ann.get(url)).items() >= first.items()
    again = typed_in(late)
    assert again.items() >= second.items()
    assert ben.post(url, again).status_code == 302
    assert typed_in(ann.get(url)).items() >= second.items()


def test_a_stale_form_lets_nobody_in_who_was_shut_out(both):
    (ann, ben), url = both, reverse("person_change", args=[person.pk])
    hers, his = (typed_in(browser.get(url)) for browser in both)
    ann.post(url, {name: value for name, value in hers.items() if name != "is_active"})
    late = ben.post(url, his | {"full_name": "Kit Orme"})
    person.refresh_from_db()
    assert (late.status_code, person.is_active, person.full_name) == (409, False, "kit")
    assert "ann saved “no” here since." in unescape(late.content.decode())


def test_the_table_of_spacings_is_guarded_as_a_whole(both):
    (ann, ben), url = both, reverse("spacing_steps")

    def shown(browser):
        context = browser.get(url).context
        forms = [*context["rows"].forms, context["whole"]]
        return {name: value for form in forms for name, value in fields_of(form).items()}

    hers, his = shown(ann), shown(ben)
    assert ann.post(url, hers | {"spacing_steps-0-source": "Our own record"}).status_code == 302
    assert ben.post(url, his).status_code == 409
    assert shown(ben)["spacing_steps-0-source"] == "Our own record"


def test_a_change_by_other_ways_is_not_laid_to_who_sent_the_form_before(both):
    (ann, ben), url = both, reverse("client_change", args=[Client.objects.get().pk])
    ann.post(url, typed_in(ann.get(url)) | {"phone": "1"})
    his = typed_in(ben.get(url))
    Client.objects.update(phone="2")
    late = unescape(ben.post(url, his | {"phone": "3"}).content.decode())
    assert "Somebody saved “2” here since." in late


def test_the_same_change_by_both_is_no_quarrel(both):
    (ann, ben), url = both, reverse("client_change", args=[Client.objects.get().pk])
    hers, his = (typed_in(browser.get(url)) for browser in both)
    assert [ann.post(url, hers | {"phone": "1"}).status_code, ben.post(url, his | {"phone": "1"}).status_code] == [
        302
    ] * 2


def test_a_form_that_does_not_say_what_it_was_made_from_is_late(both):
    ann, url = both[0], reverse("client_change", args=[Client.objects.get().pk])
    assert ann.post(url, {"name": "Another"}).status_code == 409
    assert not Client.objects.filter(name="Another").exists()
