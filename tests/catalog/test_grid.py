"""The catalog's grid: what is missing, and cells that are stored all together or not at all."""

from datetime import date
from decimal import Decimal

import pytest
from django.urls import reverse

from catalog.models import LeadTerm, Material, MaterialFact, Price, Supplier
from catalog.services.csv_export import export_csv
from catalog.services.entries import change_material
from tests.documents import starter
from tests.stored import stored_book
from tests.support.desk import HOSTILE_ON_ENGINES, as_, queries_of

__all__ = ["as_"]
TODAY = date(2026, 10, 5)


@pytest.fixture
def office(as_, frozen_clock, db):
    stored_book(starter(), "starter")
    return as_("office")


def url(**filters) -> str:
    return reverse("catalog", query=filters)


def shown(client, **filters) -> dict[str, str]:
    """Every cell as the page sends it without its script, with what was seen of each row."""
    lines = client.get(url(**filters)).context["grid"].lines
    cells = {f"{line.key}-{cell.name}": cell.shown for line in lines for cell in line.cells if cell}
    return cells | {f"{line.key}-seen_version": line.seen for line in lines}


def key_of(code: str) -> str:
    row = Material.objects.get(code=code)
    return f"{row.pk}-{row.packs.first().pk}"


def wrong(response) -> str:
    return " ".join(one.sentence for one in response.context["not_saved"].wrong)


def test_the_grid_saved_as_it_is_shown_changes_nothing(office):
    before, histories = export_csv(), Material.history.count() + Price.history.count()
    assert office.post(url(), shown(office)).status_code == 302
    assert (export_csv(), Material.history.count() + Price.history.count()) == (before, histories)


def test_materials_without_a_supplier_are_a_filter_and_filled_in_one_save(office):
    Material.objects.update(supplier=None)
    count = Material.objects.count()
    page = office.get(url())
    assert f"{count} of {count} need a supplier" in page.content.decode()
    cells = shown(office, lacks="supplier")
    filled = {name: "Tollard Yard Supply" if name.endswith("-supplier") else value for name, value in cells.items()}
    saved = office.post(url(lacks="supplier"), filled, follow=True)
    assert f"Saved: {count} cells of {count} materials." in saved.content.decode()
    assert not Material.objects.exclude(supplier="TOLLARD").exists()
    assert "need a supplier" not in saved.content.decode()


def test_a_bad_cell_is_named_with_its_row_and_nothing_is_saved(office):
    base, track, before = key_of("BASE-514-FLEX"), key_of("TRACK-358"), export_csv()
    typed = {
        f"{base}-price": "12,50",
        f"{track}-lead": "3-4 weeks",
        f"{base}-supplier": "Nobody",
        f"{track}-price": "1",
    }
    answer = office.post(url(), shown(office) | typed)
    assert answer.status_code == 422 and export_csv() == before
    assert "Base, bendable polymer, 5-1/4 in, paint grade: Supplier: “Nobody” is not a supplier" in wrong(answer)
    assert "Curvable track, 3-5/8 in, 10 ft: Lead days: '3-4 weeks' is a range; give the longer time" in wrong(answer)
    for value in typed.values():
        assert f'value="{value}"' in answer.content.decode()


def test_a_new_price_holds_from_today_and_the_old_one_stays(office):
    key, pack = key_of("TRACK-358"), Material.objects.get(code="TRACK-358").packs.get()
    before = pack.prices.count()
    office.post(url(), shown(office) | {f"{key}-price": "$1,131.50", f"{key}-source": "price list of October"})
    newest = pack.prices.get(starts_on=TODAY)
    assert (newest.amount, newest.source) == (Decimal("1131.50"), "price list of October")
    assert pack.prices.count() == before + 1


def test_lead_days_are_production_and_transit_and_keep_their_transit(office):
    key = key_of("TRACK-358")
    for typed, stored in (("3 weeks", (15, 1)), ("10 calendar days + 2", (10, 2)), ("7", (7, 2))):
        assert office.post(url(), shown(office) | {f"{key}-lead": typed}).status_code == 302
        term = LeadTerm.objects.filter(material__code="TRACK-358").latest("pk")
        # A week is 5 working days; without "+" the days in transit stay: 1, then 2.
        assert (term.production_days, term.transit_workdays) == stored
    LeadTerm.objects.filter(material__code="TRACK-358").delete()
    assert "15 + 0" in wrong(office.post(url(), shown(office) | {f"{key}-lead": "7"}))


def test_a_new_limit_needs_somebody_who_gives_it(office):
    row = MaterialFact.objects.get(material__code="TRACK-358", name="least_radius_mm")
    row.source, row.sure = "Starter figure, invented: enter your maker's", "memory"
    row.save()
    key = f"{key_of('TRACK-358')}-least_radius_mm"
    cells = shown(office, lacks="starter")
    assert "say who gives the new figure" in wrong(office.post(url(lacks="starter"), cells | {f"{key}-limit": "30 in"}))
    typed = {f"{key}-limit": "30 in", f"{key}-source": "their sheet of May"}
    assert office.post(url(lacks="starter"), cells | typed).status_code == 302
    row.refresh_from_db()
    # 1 in = 25.4 mm exactly (NIST SP 811).
    assert (row.value, row.source, row.sure, row.stated_on) == (Decimal("762"), "their sheet of May", "firm", TODAY)
    cells = shown(office)
    office.post(url(), cells | {f"{key_of('TRACK-358')}-limit": ""})
    assert not MaterialFact.objects.filter(material__code="TRACK-358", name="least_radius_mm").exists()
    assert "1 of 37 needs a limit" in office.get(url()).content.decode()


def test_a_starter_price_is_left_only_with_a_source(office):
    Price.objects.filter(pack__material__code="TRACK-358").update(source="Starter price, invented: enter your own")
    assert "1 of 37 has a starter price" in office.get(url()).content.decode()
    key = key_of("TRACK-358")
    cells = shown(office, lacks="starter_price")
    assert "say who gives" in wrong(office.post(url(lacks="starter_price"), cells | {f"{key}-price": "30"}))


def test_what_somebody_else_saved_meanwhile_is_refused_and_other_cells_of_the_row_are_not(office):
    key, cells = key_of("BASE-514-FLEX"), shown(office)
    assert office.post(url(), cells | {f"{key}-price": "30"}).status_code == 302
    late = office.post(url(), cells | {f"{key}-price": "31"})
    assert late.status_code == 409 and "the-office saved “30.00” here since" in wrong(late)
    assert office.post(url(), cells | {f"{key}-supplier": "Tollard Yard Supply"}).status_code == 302
    material = Material.objects.get(code="BASE-514-FLEX")
    assert material.supplier_id == "TOLLARD"
    assert material.packs.get().prices.get(starts_on=TODAY).amount == Decimal("30")


def test_a_row_that_is_gone_is_said_and_nothing_is_saved(office):
    cells, key = shown(office), key_of("TRACK-358")
    gone = cells | {f"{key}-price": "1", "99999-1-price": "5", "99999-1-seen_version": "x"}
    answer = office.post(url(), gone)
    assert answer.status_code == 409 and "has changed since" in wrong(answer)
    assert not Price.objects.filter(starts_on=TODAY).exists()


def test_every_size_has_a_row_where_one_kind_is_shown(office):
    studs = Material.objects.filter(kind="stud")
    lines = office.get(url(kind="stud")).context["grid"].lines
    assert len(lines) == sum(row.packs.count() for row in studs)
    assert len(office.get(url()).context["grid"].lines) == Material.objects.count()


def test_a_source_typed_alone_is_of_the_figure_shown(office):
    key = key_of("TRACK-358")
    price = Material.objects.get(code="TRACK-358").packs.get().prices.filter(starts_on__lte=TODAY).latest("starts_on")
    assert office.post(url(), shown(office) | {f"{key}-source": "their new list"}).status_code == 302
    price.refresh_from_db()
    assert price.source == "their new list"


@pytest.mark.parametrize("typed", HOSTILE_ON_ENGINES)
def test_whatever_is_typed_into_cells_is_answered_in_sentences(office, typed):
    cells = {name: value if name.endswith("version") else typed for name, value in shown(office).items()}
    assert office.post(url(), cells).status_code in (302, 422)
    assert office.post(url(), dict.fromkeys(cells, typed)).status_code in (302, 409, 422)
    assert office.get(url(q=typed, kind=typed, supplier=typed, aside=typed, lacks=typed, page=typed)).status_code == 200


def test_a_material_of_a_preferred_offer_and_one_without_packs_are_shown_whole(office):
    change_material("PAINT-WALL", {"packs": []})
    Supplier.objects.create(code="NEW", name="New")
    page = office.get(url(kind="paint"))
    assert [bool(cell) for cell in page.context["grid"].lines[0].cells] == [True, False, True, False, True]


def test_the_grid_asks_the_database_no_more_for_a_larger_catalog(office):
    few = queries_of(office, url())
    for place in range(60):
        named = {"code": f"MORE-{place}", "name": "More", "kind": "trim", "supply": "stocked", "unit_used": "ft"}
        Material.objects.create(**named, unit_bought="stick")
    assert queries_of(office, url()) == few
    assert "Page 1 of 3" in office.get(url()).content.decode()
