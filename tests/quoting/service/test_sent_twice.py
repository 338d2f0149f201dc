"""A form sent twice does its work once. Every form has a key, and says what it was made from when it changes that."""

import re
from pathlib import Path

import pytest
from django.conf import settings
from django.test import Client as Browser
from django.urls import reverse

from catalog.models import Closure, LeadTerm, Material, Pack, Supplier
from jobs.held_templates.models import HeldTemplate
from jobs.jobs.models import Client, Job
from jobs.walls.models import Wall
from quoting.platform.people.access import matrix
from quoting.platform.people.models import Person, SentForm, Token
from quoting.platform.people.services.sent_forms import forget_sent_forms
from quoting.pricing.models import TaxRate
from quoting.texts.models import NoticePack, StandardText
from tests.stored import stored_job
from tests.support.wall_posts import form_of

KEY = "0123456789abcdef0123456789abcdef"
JOB = {"client": "new", "client_name": "Tern Clinic", "title": "Screen", "crew": "2"}
DAY = {"starts_on": "2026-10-06"}
SPELL = {"first": "2026-12-24", "last": "2026-12-28", "reason": "Holiday"}
MATERIAL = {
    "code": "NEW",
    "name": "New",
    "kind": "board",
    "supply": "stocked",
    "unit_used": "sqft",
    "unit_bought": "sheet",
}
SAID = {
    "production": "3 weeks",
    "transit_workdays": "2",
    "source": "telephone",
    "stated_by": "Ada",
    "stated_on": "2026-10-01",
}
NOTICE = {"place": "Reach", "language": "en", "version": "1", "title": "N", "text": "T", "source": "Our adviser", **DAY}
TRACED = {
    "name": "T1",
    "place": "reception-screen|",
    "shape": "Base",
    "kept_at": "Rack",
    "traced_by": "Kit",
    "traced_on": "2026-10-01",
}
TAX = {
    "tax-name": "Levy",
    "tax-rate": "5",
    "tax-applies_to": "price",
    "tax-basis": "line",
    "tax-starts_on": "2026-10-06",
}
# What each form makes: where it is, what is typed, and how many there are of it.
MAKES = {
    "job_add": (lambda: (), JOB, Job),
    "job_add with a client": (lambda: (), JOB, Client),
    "wall_add": (
        lambda: [job().pk],
        lambda: form_of(job().walls.first()) | {"name": "Another", "seen_version": ""},
        Wall,
    ),
    "wall_copy": (lambda: [job().pk, job().walls.first().key], {"name": "Copy"}, Wall),
    "templates": (lambda: [job().pk], TRACED, HeldTemplate),
    "material_add": (lambda: (), MATERIAL, Material),
    "pack_add": (lambda: [material().pk], {"code": "P", "label": "Box", "quantity": "10"}, Pack),
    "lead_term_add": (lambda: [material().pk], SAID, LeadTerm),
    "supplier_add": (lambda: (), {"code": "NEW", "name": "New Mill"}, Supplier),
    "supplier_closure_add": (lambda: [Supplier.objects.first().pk], SPELL, Closure),
    "firm_closure_add": (lambda: (), SPELL, Closure),
    "standard_text_add": (lambda: (), {"block": "terms", "text": "Paid in ten days.", **DAY}, StandardText),
    "notice_add": (lambda: (), NOTICE, NoticePack),
    "person_add": (lambda: (), {"login_name": "kit", "full_name": "Kit", "role": "lead"}, Person),
    "token_make": (lambda: (), {"name": "sheet"}, Token),
    "tax_rate_set": (
        lambda: (),
        TAX,
        TaxRate,
    ),
}


ANOTHER = {"name": "Another", "seen_version": ""}


def job():
    return Job.objects.order_by("pk").first()


def material():
    return Material.objects.order_by("pk").first()


@pytest.fixture
def owner(make_person, frozen_clock):
    stored_job("larkmoor-dental")
    browser = Browser()
    browser.force_login(make_person("owner"))
    return browser


@pytest.mark.parametrize("name", MAKES)
def test_a_form_sent_twice_makes_what_it_makes_once(name, owner):
    where, typed, model = MAKES[name]
    url, before = reverse(name.partition(" ")[0], args=where()), model.objects.count()
    typed = typed() if callable(typed) else typed
    first, second = (owner.post(url, typed | {"form_key": KEY}) for _ in range(2))
    assert first.status_code in (200, 302)
    assert second.status_code == 302
    assert second["Location"] == first.headers.get("Location", first.headers.get("Content-Location"))
    assert model.objects.count() == before + 1


def test_without_its_key_a_job_sent_twice_is_two(owner):
    """The control."""
    for _ in range(2):
        owner.post(reverse("job_add"), JOB)
    assert Job.objects.count() == 3


def test_what_somebody_went_back_to_and_changed_is_another_job(owner):
    for title in ("Screen", "Bar"):
        owner.post(reverse("job_add"), JOB | {"form_key": KEY, "title": title})
    assert set(Job.objects.values_list("title", flat=True)) >= {"Screen", "Bar"}


def test_a_form_that_was_refused_may_be_sent_again(owner):
    for _ in range(2):
        assert owner.post(reverse("job_add"), {"form_key": KEY, "title": ""}).status_code == 422
    assert not SentForm.objects.exists()


def test_one_persons_key_says_nothing_of_anothers(owner, make_person):
    other = Browser()
    other.force_login(make_person("office"))
    for browser in (owner, other):
        browser.post(reverse("job_add"), JOB | {"form_key": KEY})
    assert Job.objects.count() == 3


def test_sent_forms_are_forgotten_after_a_week(owner, frozen_clock):
    owner.post(reverse("job_add"), JOB | {"form_key": KEY})
    for days, left in ((6, 1), (2, 0)):
        frozen_clock.move_on(days=days)
        forget_sent_forms(frozen_clock.now())
        assert SentForm.objects.count() == left


def test_every_form_that_writes_has_the_token_that_brings_its_key():
    """Templates read as text: what a form includes is looked into as well."""
    root = Path(settings.BASE_DIR) / "templates"

    def tokens(text):
        parts = re.findall(r'{% include "([^"]+)"', text)
        return "{% csrf_token %}" in text or any(tokens((root / part).read_text()) for part in parts)

    # The client's pages know the client by a link and keep an answer once by themselves.
    written = {path: path.read_text() for path in root.rglob("*.html") if path.parent.name != "client"}
    forms = [(path, form) for path, text in written.items() for form in FORM.findall(text)]
    assert len(forms) > 80
    assert [path for path, form in forms if not tokens(form)] == []


FORM = re.compile(r'<form[^>]*method="post".*?</form>', re.S)


def test_every_page_shows_its_forms_with_a_key_of_their_own(owner):
    for name in ("job_add", "firm_change", "account", "notices", "rates"):
        page = owner.get(reverse(name)).content.decode()
        keys = re.findall(r'name="form_key" value="(\w{32})"', page)
        assert len(keys) == len(set(keys)) == len(FORM.findall(page)) > 1, name


# Forms that enter something beside what is there; they change nothing that somebody else could have changed.
ENTER = """
    learnt_leave_out
    job_add job_import job_outcome wall_add wall_copy wall_photos templates template account_password person_add
    catalog_start
    catalog_csv_in sheet_csv_in material_add pack_add price_add lead_term_add offer_add stock supplier_add
    order_from check_in
    delivery promises
    line_end line_settle return_add return_credit confirmation_add order_call_off payments payment_undo
    bill_add bill_slip bills_in finish_list firm_mark
    hours hours_file workers
    event_mark event_mark_undo request_issue request_credit
    overhead overhead_void money_item
    substitutions quote_issue quote_approve standard_text_add notice_add cancellation_terms change_add login
"""
# Forms that say what they were made from; those of the last line have had a name of their own for it.
CHANGE = """
    client_change supplier_change catalog material_change fact_set profile_set order_terms_set firm_change firm_kit
    standard_set spacing_steps alert_times person_change standard_text notice template_change receipt_outcome job_change
    wall wall_delete wall_quantity job_dates job_items job_people field_check
    bill_enter bill_void finish_item
    time_entry worker
    account_codes month_sentence
    quote usual_pricing change_draft receipt_correct follow_up left_over request_terms job_retention
    money_limits
"""


def test_every_form_page_is_known_to_enter_or_to_change():
    """A new one is put into one of the lists above: what changes a row says what it was made from."""
    pages = {name for name, row in matrix().items() if {"GET", "POST"} <= set(row) and not name.startswith("api_")}
    assert pages == {*ENTER.split(), *CHANGE.split()}


CATALOG = {
    "client_change": lambda: [Client.objects.first().pk],
    "supplier_change": lambda: [Supplier.objects.first().pk],
    "order_terms_set": lambda: [Supplier.objects.first().pk],
    "material_change": lambda: [material().pk],
    "profile_set": lambda: [Material.objects.filter(kind="trim").first().pk],
    "fact_set": lambda: [material().pk, material().facts.first().name],
    "standard_set": lambda: ["curve_factor"],
    "firm_change": list,
    "firm_kit": list,
    "spacing_steps": list,
    "alert_times": list,
    "request_terms": list,
    "money_limits": list,
    "job_retention": lambda: [job().pk],
    "person_change": lambda: [Person.objects.first().pk],
    "job_change": lambda: [job().pk],
    "job_dates": lambda: [job().pk],
    "follow_up": lambda: [job().pk],
    "left_over": lambda: [job().pk],
    "job_items": lambda: [job().pk],
    "wall": lambda: [job().pk, job().walls.first().key],
    "wall_delete": lambda: [job().pk, job().walls.first().key],
    "field_check": lambda: [job().pk, job().walls.first().key],
}


@pytest.mark.parametrize("name", CATALOG)
def test_a_form_that_changes_says_what_it_was_made_from(name, owner):
    page = owner.get(reverse(name, args=CATALOG[name]())).content.decode()
    assert re.search(r'name="seen_version" value="[^"]+"', page)
