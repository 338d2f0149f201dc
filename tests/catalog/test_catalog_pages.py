import base64
from datetime import date
from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import QueryDict
from django.urls import reverse

from catalog.models import Closure, Firm, KitEntry, LeadTerm, Material, Price, SpacingStep, Standard, Supplier
from catalog.pages.suppliers import SupplierForm
from catalog.services.csv_export import export_csv
from tests.documents import starter
from tests.stored import stored_book
from tests.support.desk import HOSTILE_ON_ENGINES, as_, opened, queries_of

__all__ = ["as_"]


@pytest.fixture
def office(as_, frozen_clock, db):
    stored_book(starter(), "starter")
    return as_("office")


@pytest.fixture
def trim(office):
    return Material.objects.get(code="BASE-514-FLEX")


def errors_by(response) -> dict[str, str]:
    return {name: " ".join(errors) for name, errors in response.context["form"].errors.items()}


NEW = {
    "code": "BEAD-NEW",
    "name": "A new bead",
    "kind": "bead",
    "supply": "stocked",
    "unit_used": "ft",
    "unit_bought": "stick",
    "waste": "7.5",
    "supplier": "TOLLARD",
}


def test_a_material_of_any_kind_is_added_and_found(office):
    response = office.post(reverse("material_add"), NEW)
    row = Material.objects.get(code="BEAD-NEW")
    assert response["Location"] == reverse("material", args=[row.pk])
    # 7.5 % is the share 0.075.
    assert row.waste == Decimal("0.075")
    assert b"A new bead" in office.get(reverse("catalog"), {"q": "bead-new", "kind": "bead"}).content


def test_what_is_wrong_stands_beside_its_field_and_what_was_typed_is_kept(office):
    response = office.post(reverse("material_add"), {**NEW, "waste": "lots", "name": ""})
    assert response.status_code == 422
    assert b'value="lots"' in response.content
    texts = errors_by(response)
    assert "Name" in texts["name"] and not Material.objects.filter(code="BEAD-NEW").exists()
    texts = errors_by(office.post(reverse("material_add"), {**NEW, "waste": "lots"}))
    assert "Waste" in texts["waste"] and "lots" in texts["waste"] and "12.5" in texts["waste"]


def test_a_code_already_taken_is_said_at_the_code(office, trim):
    texts = errors_by(office.post(reverse("material_add"), {**NEW, "code": trim.code}))
    assert trim.code in texts["code"]


def test_emptying_the_waste_makes_it_a_named_gap(office, trim):
    form = office.get(reverse("material_change", args=[trim.pk])).context["form"]
    data = {name: form[name].value() or "" for name in form.fields} | {"waste": ""}
    assert office.post(reverse("material_change", args=[trim.pk]), data).status_code == 302
    trim.refresh_from_db()
    assert trim.waste is None
    assert "waste" in office.get(reverse("material", args=[trim.pk])).context["missing"]


def test_opening_a_change_and_saving_it_changes_nothing(office):
    """The control: every figure offered for change reads back as it was."""
    for row in Material.objects.all():
        before, stored = row.to_core(), Material.history.filter(id=row.pk).count()
        form = office.get(reverse("material_change", args=[row.pk])).context["form"]
        data = {name: form[name].value() if form[name].value() is not None else "" for name in form.fields}
        assert office.post(reverse("material_change", args=[row.pk]), data).status_code == 302
        assert Material.objects.get(pk=row.pk).to_core() == before
        assert Material.history.filter(id=row.pk).count() == stored


def test_every_figure_saved_as_it_is_offered_stays_to_the_last_digit(office):
    for row in Material.objects.filter(kind__in=["board", "trim", "track"]):
        for fact in row.facts.all():
            url = reverse("fact_set", args=[row.pk, fact.name])
            form = office.get(url).context["form"]
            data = {name: str(form[name].value() or "") for name in form.fields}
            assert office.post(url, data).status_code == 302, (row.code, fact.name)
            fact_after = row.facts.get(name=fact.name)
            assert (fact_after.value, fact_after.source) == (fact.value, fact.source)


def test_a_figure_takes_either_unit_and_refuses_a_wrong_one_by_name(office, trim):
    url = reverse("fact_set", args=[trim.pk, "least_radius_mm"])
    data = {"value": "30 in", "source": "The maker's sheet", "sure": "maker", "stated_on": "2026-10-05"}
    assert office.post(url, data | opened(office, url)).status_code == 302
    # 1 in = 25.4 mm exactly (NIST SP 811).
    assert trim.facts.get(name="least_radius_mm").value == Decimal("762")
    texts = errors_by(office.post(url, {**data, "value": "tight"} | opened(office, url)))
    assert "tight" in texts["value"] and "3810 mm" in texts["value"]


def test_a_figure_of_another_kind_is_not_found(office, trim):
    assert office.get(reverse("fact_set", args=[trim.pk, "gal_per_1000sqft"])).status_code == 404


def test_a_new_price_is_in_force_from_its_day(office, trim):
    pack = trim.packs.get()
    url = reverse("price_add", args=[trim.pk, pack.pk])
    assert office.post(url, {"amount": "31.50", "starts_on": "2026-10-05", "source": "e-mail"}).status_code == 302
    assert pack.prices.get(starts_on=date(2026, 10, 5)).amount == Decimal("31.50")
    assert b"31.50" in office.get(reverse("catalog"), {"q": trim.code}).content
    office.post(url, {"amount": "$1,131.50", "starts_on": "2026-10-06", "source": "e-mail"})
    assert pack.prices.get(starts_on=date(2026, 10, 6)).amount == Decimal("1131.50")
    texts = errors_by(office.post(url, {"amount": "12,50", "starts_on": "next week"}))
    assert "has a comma" in texts["amount"]


def test_a_new_lead_time_says_who_and_when(office, trim):
    data = {"production": "4 weeks", "transit_workdays": "2", "source": "telephone", "stated_on": "2026-10-02"}
    url = reverse("lead_term_add", args=[trim.pk])
    assert office.post(url, {**data, "stated_by": "sales desk"}).status_code == 302
    term = LeadTerm.objects.filter(material=trim).latest("pk")
    # "1 week" is 5 working days: trade rules, section 9.
    assert (term.production_days, term.stated_by) == (20, "sales desk")
    texts = errors_by(office.post(url, {**data, "production": "3-4 weeks"}))
    assert "longer time" in texts["production"]


def test_a_material_set_aside_leaves_the_list_and_comes_back(office, trim):
    office.post(reverse("material_set_active", args=[trim.pk]), {"active": "no"})
    assert trim.code not in office.get(reverse("catalog")).content.decode()
    assert trim.code in office.get(reverse("catalog"), {"aside": "yes"}).content.decode()
    office.post(reverse("material_set_active", args=[trim.pk]), {"active": "yes"})
    assert trim.code in office.get(reverse("catalog")).content.decode()


def test_closed_days_of_a_supplier_are_added_refused_and_taken_away(office):
    row = Supplier.objects.get(code="TOLLARD")
    count = row.closures.count()
    add = reverse("supplier_closure_add", args=[row.pk])
    assert office.post(add, {"first": "2027-03-01"}).status_code == 302
    closure = row.closures.latest("pk")
    assert (closure.first_day, closure.last_day) == (date(2027, 3, 1), date(2027, 3, 1))
    assert office.post(add, {"first": "2027-03-02", "last": "2027-03-01"}).status_code == 422
    office.post(reverse("supplier_closure_remove", args=[row.pk, closure.pk]))
    assert row.closures.count() == count


def test_a_supplier_cannot_take_away_the_firm_s_days(office):
    row, firms = Supplier.objects.get(code="TOLLARD"), Closure.objects.filter(supplier=None).first()
    assert office.post(reverse("supplier_closure_remove", args=[row.pk, firms.pk])).status_code == 404
    assert Closure.objects.filter(pk=firms.pk).exists()


def test_changing_a_supplier_keeps_its_closed_days(office):
    row = Supplier.objects.get(code="HENNOCK")
    before = row.to_core().closures
    url, data = reverse("supplier_change", args=[row.pk]), {"name": "Hennock", "order_cut_off": "16:00"}
    assert office.post(url, data | opened(office, url)).status_code == 302
    assert Supplier.objects.get(pk=row.pk).to_core().closures == before
    days = errors_by(office.post(url, {**data, "order_cut_off": "4 pm"} | opened(office, url)))
    assert "14:30" in days["order_cut_off"]


def test_a_supplier_that_sells_something_is_not_deleted(office):
    row = Supplier.objects.get(code="HENNOCK")
    response = office.post(reverse("supplier_delete", args=[row.pk]), follow=True)
    assert b"give those another first" in response.content
    assert Supplier.objects.filter(pk=row.pk).exists()


def test_a_new_firm_is_entered_first(as_, frozen_clock):
    office = as_("office")
    assert office.get(reverse("firm"), follow=True).redirect_chain[-1][0] == reverse("firm_change")
    data = {
        "name": "Wendrell & Daughters",
        "time_zone": "Europe/Lisbon",
        "currency": "EUR",
        "display_units": "metric",
        "cushion_workdays": "3",
        "sign_off_workdays": "5",
    }
    assert (
        "not one of those offered"
        in errors_by(office.post(reverse("firm_change"), {**data, "time_zone": "Lisbon"}))["time_zone"]
    )
    assert not Firm.objects.exists()
    assert office.post(reverse("firm_change"), data).status_code == 302
    assert Firm.objects.get().currency == "EUR" and Standard.objects.exists()


def test_the_kit_saved_as_it_is_shown_stays(office):
    before = list(KitEntry.objects.values_list("role", "order", "material_id"))
    form = office.get(reverse("firm_kit")).context["form"]
    data = {name: form[name].value() or "" for name in form.fields}
    assert office.post(reverse("firm_kit"), data).status_code == 302
    assert list(KitEntry.objects.values_list("role", "order", "material_id")) == before
    office.post(reverse("firm_kit"), {**data, "paint": "", **opened(office, reverse("firm_kit"))})
    assert not KitEntry.objects.filter(role="paint").exists()


def steps_shown(office):
    url = reverse("spacing_steps")
    rows = office.get(url).context["rows"]
    typed = {form.add_prefix(name): str(form[name].value() or "") for form in rows.forms for name in form.fields}
    return typed | opened(office, url)


def test_the_spacing_table_saved_as_it_is_shown_stays(office):
    before = list(SpacingStep.objects.values_list("from_radius_mm", "spacing_mm", "source"))
    assert office.post(reverse("spacing_steps"), steps_shown(office)).status_code == 302
    assert list(SpacingStep.objects.values_list("from_radius_mm", "spacing_mm", "source")) == before


def test_a_wrong_row_of_the_spacing_table_is_told_at_that_row(office):
    data = steps_shown(office) | {"spacing_steps-1-spacing": "eight"}
    response = office.post(reverse("spacing_steps"), data)
    assert response.status_code == 422
    assert "eight" in response.context["rows"].forms[1].errors["spacing"][0]
    assert not response.context["rows"].forms[0].errors


def test_a_standard_taken_away_is_a_gap_on_the_firm_s_page(office):
    assert office.post(reverse("standard_remove", args=["curve_factor"])).status_code == 302
    groups = office.get(reverse("standards")).context["groups"]
    assert {row.name: row.value for _, rows in groups for row in rows}["curve_factor"] is None
    page = office.get(reverse("standards", query={"show": "gap"}))
    assert [row.label for row in page.context["rows"]] == ["Times longer on a curve than on a flat wall"]
    assert '<a href="?show=gap">1 not stated</a>' in page.content.decode()


def upload(office, content: bytes):
    sheet = SimpleUploadedFile("catalog.csv", content, content_type="text/csv")
    return office.post(reverse("catalog_csv_in"), {"sheet": sheet})


def test_the_sheet_taken_out_and_brought_in_changes_nothing(office):
    content = office.get(reverse("catalog_csv")).content
    assert content == export_csv()
    preview = upload(office, content).context["preview"]
    assert (preview.added, preview.changes, preview.errors) == ((), (), ())


def test_a_sheet_is_previewed_then_applied_whole(office, trim):
    changed = export_csv().replace(trim.name.encode(), b"Renamed base")
    response = upload(office, changed)
    assert [change.new for change in response.context["preview"].changes] == ["Renamed base"]
    trim.refresh_from_db()
    assert trim.name != "Renamed base"
    carried = {field.html_name: field.value() for field in response.context["apply"]}
    assert office.post(reverse("catalog_csv_apply"), carried).status_code == 302
    trim.refresh_from_db()
    assert trim.name == "Renamed base"


def test_a_sheet_is_not_applied_when_the_catalog_changed_after_the_preview(office, trim):
    response = upload(office, export_csv().replace(trim.name.encode(), b"Renamed base"))
    carried = {field.html_name: field.value() for field in response.context["apply"]}
    Material.objects.filter(pk=trim.pk).update(name="Changed meanwhile")
    response = office.post(reverse("catalog_csv_apply"), carried)
    assert response.status_code == 409 and b"preview it again" in response.content
    trim.refresh_from_db()
    assert trim.name == "Changed meanwhile"


def test_a_wrong_sheet_is_told_by_line_and_stores_nothing(office):
    before, prices = export_csv(), Price.objects.count()
    response = upload(office, before.replace(b"TOLLARD", b"NOBODY", 1))
    assert response.status_code == 422
    assert "NOBODY" in response.context["preview"].errors[0].reason
    assert (export_csv(), Price.objects.count()) == (before, prices)


@pytest.mark.parametrize("content", ["", "!!", base64.b64encode(b"code\nX\n").decode()])
def test_what_comes_back_changed_is_not_applied(office, content):
    before = export_csv()
    office.post(reverse("catalog_csv_apply"), {"content": content, "sha256": "0" * 64, "plan_sha256": "0" * 64})
    assert export_csv() == before


@pytest.mark.parametrize("typed", HOSTILE_ON_ENGINES)
def test_whatever_is_typed_is_answered_in_sentences(office, trim, typed):
    pack, supplier = trim.packs.get(), trim.supplier
    urls = [
        reverse("material_add"),
        reverse("material_change", args=[trim.pk]),
        reverse("fact_set", args=[trim.pk, "least_radius_mm"]),
        reverse("price_add", args=[trim.pk, pack.pk]),
        reverse("pack_add", args=[trim.pk]),
        reverse("lead_term_add", args=[trim.pk]),
        reverse("supplier_change", args=[supplier.pk]),
        reverse("firm_change"),
        reverse("standard_set", args=["curve_factor"]),
    ]
    for url in urls:
        names = list(office.get(url).context["form"].fields)
        assert office.post(url, dict.fromkeys(names, typed)).status_code in (302, 409, 422), url
    for url in (
        reverse("supplier_closure_add", args=[supplier.pk]),
        reverse("firm_closure_add"),
    ):
        assert office.post(url, dict.fromkeys(("first", "last", "reason"), typed)).status_code in (302, 422), url
    steps = dict.fromkeys(steps_shown(office), typed)
    assert office.post(reverse("spacing_steps"), steps).status_code in (302, 409, 422)
    assert office.get(reverse("catalog"), {"q": typed, "kind": typed, "aside": typed}).status_code == 200
    assert upload(office, typed.encode("utf-8", "replace") or b"x").status_code == 422


def test_the_lead_opens_nothing_of_the_catalog(as_, office, trim):
    lead = as_("lead")
    for url in (reverse("catalog"), reverse("material", args=[trim.pk]), reverse("firm"), reverse("catalog_csv")):
        assert lead.get(url).status_code == 403


def test_the_list_and_a_material_ask_the_database_no_more_for_a_larger_catalog(office, trim):
    urls = [reverse("catalog"), reverse("material", args=[trim.pk]), reverse("supplier_list"), reverse("firm")]
    few = [queries_of(office, url) for url in urls]
    for place in range(8):
        Material.objects.create(
            code=f"MORE-{place}", name="More", kind="trim", supply="stocked", unit_used="ft", unit_bought="stick"
        )
        supplier = Supplier.objects.create(code=f"S-{place}", name="More")
        Closure.objects.create(supplier=supplier, first_day=date(2027, 5, 3), last_day=date(2027, 5, 3))
        Closure.objects.create(first_day=date(2027, 6, place + 1), last_day=date(2027, 6, place + 1))
        LeadTerm.objects.create(
            material=trim, production_days=3, production_counts="workdays", transit_workdays=1,
            source="list", stated_on=date(2026, 1, place + 1),
        )  # fmt: skip
    assert [queries_of(office, url) for url in urls] == few


def test_text_of_a_form_is_as_long_as_its_document_may_have_it():
    long, fits = (SupplierForm(QueryDict(f"phone={'1' * count}")) for count in (61, 60))
    assert long.errors["phone"] == ["Ensure this value has at most 60 characters (it has 61)."]
    assert 'maxlength="60"' in str(fits["phone"]) and "phone" not in fits.errors
