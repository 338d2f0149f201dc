"""Materials of one wall that differ from the firm's kit, on the wall's page."""

import pytest
from django.urls import reverse

from catalog.models import Material
from jobs.walls.models import Wall
from jobs.walls.pages.form.form_parts import KIT
from tests.stored import stored_job
from tests.support.wall_posts import form_of

pytestmark = pytest.mark.usefixtures("frozen_clock")


@pytest.fixture
def wall(db):
    Material.objects.create(
        code="TAPE-GLASS",
        name="Glass mesh tape",
        kind="tape",
        supply="stocked",
        unit_used="ft",
        unit_bought="roll",
        waste="0.1",
    )
    return stored_job("larkmoor-dental").walls.get()


@pytest.fixture
def desk(client, make_person):
    client.force_login(make_person("estimator"))
    return client


def url_of(wall, name="wall"):
    return reverse(name, args=[wall.job_id, wall.key])


def row(place, role, code):
    return {f"kit-{place}-role": role, f"kit-{place}-instead": code}


def kit(wall):
    return dict(Wall.objects.get(pk=wall.pk).to_core().kit)


def test_the_line_says_how_many_own_materials_there_are(desk, wall):
    assert desk.get(url_of(wall)).context["form"].line("kit").words == "the firm's kit"


def test_a_material_named_here_is_counted_instead_of_the_firm_s(desk, wall):
    takeoff = f"{url_of(wall)}?show=takeoff"
    assert "Paper joint tape" in desk.get(takeoff).content.decode()
    assert desk.post(url_of(wall), form_of(wall, **row(0, "tape", "TAPE-GLASS"))).status_code == 302
    assert kit(wall) == {"tape": ("TAPE-GLASS",)}
    answer = desk.get(takeoff)
    page = answer.content.decode()
    assert answer.context["form"].line("kit").words == "1"
    assert "Glass mesh tape" in page.partition('id="figures"')[2]
    assert "Paper joint tape" not in page.partition('id="figures"')[2]


def test_several_screws_for_board_are_kept_in_their_order(desk, wall):
    rows = row(0, "board_screw", "SCREW-158") | row(1, "board_screw", "SCREW-114") | row(2, "tape", "TAPE-GLASS")
    desk.post(url_of(wall), form_of(wall, **rows))
    assert kit(wall) == {"board_screw": ("SCREW-158", "SCREW-114"), "tape": ("TAPE-GLASS",)}
    # Saved again as it is shown, it stays.
    assert desk.post(url_of(wall), form_of(Wall.objects.get())).status_code == 302
    assert kit(wall) == {"board_screw": ("SCREW-158", "SCREW-114"), "tape": ("TAPE-GLASS",)}


def test_a_row_taken_away_gives_the_role_back_to_the_firm(desk, wall):
    desk.post(url_of(wall), form_of(wall, **row(0, "tape", "TAPE-GLASS")))
    sent = form_of(Wall.objects.get())
    without = desk.post(url_of(wall), sent | {"do": "remove-kit-0"})
    assert without.context["form"].typed.rows("kit") == [] and kit(wall)
    desk.post(url_of(wall), {name: value for name, value in sent.items() if not name.startswith("kit-")})
    assert kit(wall) == {}


def test_the_materials_offered_are_those_of_the_role(desk, wall):
    answer = desk.post(url_of(wall), form_of(wall, **row(0, "tape", "")))
    choices = dict(answer.context["form"].row(KIT, 0).fields["instead"].choices)
    assert {code for code, _ in choices["Joint tape"]} == {"TAPE-PAPER", "TAPE-GLASS"}


@pytest.mark.parametrize(
    ("rows", "where", "says"),
    [
        (row(0, "tape", ""), "kit-0-instead", "Material: choose one, or remove the row."),
        (row(0, "", "TAPE-GLASS"), "kit-0-role", "Used as: choose one, or remove the row."),
        (row(0, "tape", "SCREW-114"), "kit-0-instead", "joint tape is needed here"),
        (row(0, "tape", "TAPE-GONE"), "kit-0-instead", "is not a material in the catalog"),
        (row(0, "plinth", "TAPE-GLASS"), "kit-0-role", "is not a role"),
        (row(0, "tape", "TAPE-GLASS") | row(1, "tape", "TAPE-PAPER"), "kit-0-instead", "must name one material"),
    ],
)
def test_what_is_wrong_is_told_at_its_row_and_nothing_is_kept(desk, wall, rows, where, says):
    answer = desk.post(url_of(wall), form_of(wall, **rows))
    assert answer.status_code == 422
    assert says in " ".join(answer.context["form"].errors[where])
    assert kit(wall) == {} and Wall.objects.get().version == 1


def test_a_row_in_which_nothing_is_chosen_yet_says_nothing(desk, wall):
    assert desk.post(url_of(wall), form_of(wall, **row(0, "", ""))).status_code == 302
    assert kit(wall) == {}
