from io import StringIO

import ezdxf
import pytest
from django.urls import reverse

from jobs.jobs.models import Job
from jobs.site.pages.parts import short_tables
from jobs.site.papers.site_parts import SiteTable
from jobs.walls.models import RoomTie
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import run_errand
from quoting.platform.papers.models import Paper
from quoting.platform.papers.papers import download_name
from tests.stored import stored_job
from tests.support.desk import DAY, HOSTILE, as_, queries_of
from tests.support.paper_reading import whole_text

__all__ = ["as_"]


@pytest.fixture
def dental(frozen_clock, db, settings, tmp_path):
    frozen_clock.move_to(DAY)
    settings.MEDIA_ROOT = tmp_path
    return stored_job("larkmoor-dental")


@pytest.fixture
def wall(dental):
    return dental.walls.get()


def make_sheet(client, job: Job, size: str = "letter"):
    client.post(reverse("site_sheet_make", args=[job.pk]), {"size": size})
    errand = Errand.objects.get(kind="render_site_sheet")
    run_errand(errand.pk, "w")
    return Paper.objects.get(kind="site_sheet")


def test_the_lead_reads_the_same_figures_as_on_paper(as_, dental, wall):
    page = as_("lead").get(reverse("site_wall", args=[dental.pk, wall.key])).content.decode()
    # Worked by hand: chord 14'-0", rise 2'-6" on the convex framing face.
    assert "Chord 14&#x27; 0&quot;, rise 2&#x27; 6&quot;" in page
    assert "29 CFR 1926.1153" in page
    assert "Found on site" not in page


def test_everyone_on_the_staff_may_have_the_site_sheet_made_and_take_it(as_, dental):
    clients = [as_(role) for role in ("lead", "estimator", "office", "owner")]
    paper = make_sheet(clients[0], dental)
    assert download_name(paper) == f"{dental.key}-site-sheet.pdf"
    for client in clients:
        assert client.post(reverse("site_sheet_make", args=[dental.pk]), {"size": "letter"}).status_code == 302
        page = client.get(reverse("site_sheet", args=[dental.pk])).content.decode()
        assert reverse("site_paper", args=[paper.pk]) in page
        response = client.get(reverse("site_paper", args=[paper.pk]))
        assert response["Content-Type"] == "application/pdf"
    assert "Stud marks on the track" in whole_text(response.content)


def test_the_lead_gets_no_paper_of_the_office_by_way_of_the_site(as_, dental):
    office = as_("office")
    office.post(reverse("order_dates_paper", args=[dental.pk]))
    errand = Errand.objects.get(kind="render_order_dates")
    run_errand(errand.pk, "w")
    paper = Paper.objects.get(kind="order_dates")
    lead = as_("lead")
    assert lead.get(reverse("site_paper", args=[paper.pk])).status_code == 404
    assert lead.get(reverse("site_paper_progress", args=[errand.pk])).status_code == 404
    # The control: the office may have it, by its own way.
    assert office.get(reverse("paper", args=[paper.pk])).status_code == 200


def test_no_supplier_and_no_money_is_on_the_pages_of_the_site(as_, dental, wall):
    lead = as_("lead")
    for place in (reverse("site_sheet", args=[dental.pk]), reverse("site_wall", args=[dental.pk, wall.key])):
        page = lead.get(place).content.decode()
        for secret in ("Hennock", "Tollard", "USD", "margin"):
            assert secret not in page


def test_the_drawing_for_cad_opens_in_a_general_reader(as_, dental, wall):
    response = as_("lead").get(reverse("site_wall_dxf", args=[dental.pk, wall.key]))
    assert f"{dental.key}-{wall.key}.dxf".lower() in response["Content-Disposition"]
    arcs = ezdxf.read(StringIO(response.content.decode())).modelspace().query('ARC[layer=="Right framing face"]')
    # Worked by hand: R 132.600 in on the convex framing face.
    assert {round(arc.dxf.radius / 25.4, 3) for arc in arcs} == {132.6}


def test_a_full_size_template_is_made_of_an_arc(as_, dental, wall):
    lead = as_("lead")
    texts = {"piece": "1", "length": "stretch", "size": "a4"}
    lead.post(reverse("full_size_make", args=[dental.pk, wall.key]), texts)
    errand = Errand.objects.get(kind="render_full_size")
    run_errand(errand.pk, "w")
    paper = Paper.objects.get(kind="full_size")
    assert paper.page_count > 3
    assert "The paper is ready" in lead.get(reverse("site_wall", args=[dental.pk, wall.key])).content.decode()
    assert (
        reverse("site_paper", args=[paper.pk])
        in lead.get(reverse("site_paper_progress", args=[errand.pk])).content.decode()
    )


@pytest.mark.parametrize("entry", ["piece", "length", "size"])
def test_a_choice_that_is_none_is_named_and_nothing_is_made(as_, dental, wall, entry):
    place, lead = reverse("full_size_make", args=[dental.pk, wall.key]), as_("lead")
    for typed in HOSTILE:
        response = lead.post(place, {"piece": "1", "length": "stretch", "size": "a4", entry: typed}, follow=True)
        assert response.status_code == 200
        assert "is not one of the choices; it can be" in response.content.decode(), typed
    assert not Errand.objects.exists()


def test_a_job_without_walls_says_there_is_nothing_to_set_out(as_, dental):
    dental.walls.all().delete()
    lead = as_("lead")
    assert "nothing to set out" in lead.get(reverse("site_sheet", args=[dental.pk])).content.decode()
    answer = lead.post(reverse("site_sheet_make", args=[dental.pk]), {"size": "a4"}, follow=True)
    assert "Add a wall first" in answer.content.decode()
    assert not Errand.objects.exists()


def test_the_same_walls_asked_for_twice_are_one_paper(as_, dental):
    lead = as_("lead")
    for _ in range(2):
        lead.post(reverse("site_sheet_make", args=[dental.pk]), {"size": "letter"})
    assert Errand.objects.count() == 1
    # The control: on other paper it is another.
    lead.post(reverse("site_sheet_make", args=[dental.pk]), {"size": "a4"})
    assert Errand.objects.count() == 2


def test_the_pages_ask_the_database_no_more_for_more_walls(as_, frozen_clock, db):
    frozen_clock.move_to(DAY)
    entry, three = stored_job("larkmoor-dental"), stored_job("brightwell-childcare")
    lead = as_("lead")
    for job in (entry, three):  # the first look works each up
        lead.get(reverse("site_sheet", args=[job.pk]))
    few, many = (queries_of(lead, reverse("site_sheet", args=[job.pk])) for job in (entry, three))
    assert entry.walls.count() < three.walls.count() and few == many


def test_a_long_table_is_cut_into_even_parts_a_phone_can_show():
    rows = tuple((str(place), "1") for place in range(1, 43))
    tables = list(short_tables(SiteTable("Ordinates", ("Along", "Off"), rows)))
    # 42 lines at most 20 each are 3 of 14.
    assert [(table.heading, len(table.rows)) for table in tables] == [
        ("Ordinates, 1 to 14", 14),
        ("Ordinates, 15 to 28", 14),
        ("Ordinates, 29 to 42", 14),
    ]
    assert sum((table.rows for table in tables), ()) == rows


def test_a_tied_wall_begins_with_its_tapes_from_the_building(as_, dental, wall):
    lead, place = as_("lead"), reverse("site_wall", args=[dental.pk, wall.key])
    assert "Nothing ties this wall to the building" in lead.get(place).content.decode()
    # Chord 168 in, start at the column, the corner 126 in square off it: 3-4-5, 210 in = 17'-6" to the end.
    tapes = {"first_to_start_mm": 0, "second_to_start_mm": "3200.4", "first_to_point_mm": "4267.2"}
    tied = {"first": "Column C4", "second": "Corner", "apart_mm": "3200.4", "second_to_point_mm": 5334, "side": "left"}
    RoomTie.objects.create(wall=wall, **tapes, **tied)
    page = lead.get(place).content.decode()
    assert page.index("Start from the building") < page.index('id="setting-out"')
    assert "Nothing ties" not in page and "17&#x27; 6&quot;" in page
