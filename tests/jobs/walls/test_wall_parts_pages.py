"""A wall's form sends the lines that are open in it; of the others the stored wall stands."""

import pytest
from django.urls import reverse

from jobs.walls.pages.form.typed_wall import typed_of
from jobs.walls.services.walls import wall_document
from tests.stored import stored_job
from tests.support.wall_documents import save_document
from tests.support.wall_posts import form_of, posted, with_row

pytestmark = pytest.mark.usefixtures("frozen_clock")
TOO_TIGHT = {"pieces-0-chord": "100", "pieces-0-rise": "40"}


@pytest.fixture
def wall(db):
    return stored_job("larkmoor-dental").walls.get()


@pytest.fixture
def desk(client, make_person):
    client.force_login(make_person("estimator"))
    return client


def url_of(wall, name="wall"):
    return reverse(name, args=[wall.job_id, wall.key])


def closed(wall, **more):
    """What the page of a stored wall sends while no line of it is open."""
    names = ("name", "measured_on", "height", "height__how", "pieces-0-chord", "pieces-0-rise", "pieces-0-turn")
    filled = form_of(wall)
    return (
        {name: filled[name] for name in names if name in filled}
        | {"pieces-0-was": "0", "seen_version": wall.version}
        | more
    )


def test_a_wall_saved_with_every_line_closed_stays_the_same(desk, wall):
    before = wall_document(wall)
    assert desk.post(url_of(wall), closed(wall)).status_code == 302
    assert wall_document(wall.job.walls.get()) == before


def test_a_closed_piece_keeps_its_figures_and_follows_its_place(desk, wall):
    typed = typed_of(wall.to_core(), "imperial")
    with_row(typed, "pieces", way="straight", length="44")
    assert desk.post(url_of(wall), posted(typed, seen_version=1)).status_code == 302
    swapped = {"pieces-0-was": "1", "pieces-1-was": "0"}
    sent = {name: value for name, value in closed(wall, seen_version=2).items() if not name.startswith("pieces")}
    assert desk.post(url_of(wall), sent | swapped).status_code == 302
    assert [piece["shape"] for piece in wall_document(wall.job.walls.get())["pieces"]] == ["straight", "arc"]


def test_readings_in_a_closed_line_go_with_the_piece_they_are_of(desk, wall):
    document = wall_document(wall)
    piece = document["pieces"][0] | {"readings": [{"chord": "84", "rise": "6"}]}
    straight = {"shape": "straight", "length": "44"}
    wall = save_document(wall.job, document | {"pieces": [straight, piece], "openings": []}, seen_version=1)
    sent = {name: value for name, value in closed(wall).items() if not name.startswith("pieces")}
    assert desk.post(url_of(wall), sent | {"pieces-0-was": "1"}).status_code == 302
    (kept,) = wall_document(wall.job.walls.get())["pieces"]
    assert len(kept["readings"]) == 1


def test_a_line_is_opened_in_place_with_what_is_stored(desk, wall):
    page = desk.post(url_of(wall, "wall_preview"), closed(wall, do="open-boards")).content.decode()
    assert 'name="part" value="boards"' in page and 'name="left-layers-0-board"' in page
    assert "<svg" not in page


def test_a_way_out_of_a_tight_bend_that_is_pressed_is_saved_with_what_else_is_typed(desk, wall):
    """GA-226-08, Table 1: 1/4 in board lengthwise, 60 in dry; damp it follows 47.375 in."""
    bare = {"part": ["openings", "trims"]}
    shown = desk.post(url_of(wall, "wall_preview"), closed(wall, **TOO_TIGHT, **bare)).content.decode()
    way = shown.split('value="way:left/')[1].split('"')[0]
    answer = desk.post(url_of(wall), closed(wall, do=f"way:left/{way}", **TOO_TIGHT, **bare))
    assert answer.status_code == 302
    assert {layer["moisture"] for layer in wall_document(wall.job.walls.get())["left"]["layers"]} == {"damp"}


def test_a_decision_has_its_number_in_red_at_its_piece_and_how_sure_each_limit_is(desk, wall):
    page = desk.post(url_of(wall, "wall_preview"), closed(wall, **TOO_TIGHT)).content.decode()
    assert page.count('class="red-text at-middle">1</text>') == 2  # on a desk and on a phone
    assert "the firm&#x27;s" in page or "a starter figure" in page or "published" in page


# An S by hand: two quarter circles of 1200 mm, read every 200 mm.
S_CURVE = [
    *((x, 1200 - (1200**2 - x**2) ** 0.5) for x in range(0, 1001, 200)),
    *((2400 - x, 1200 + (1200**2 - x**2) ** 0.5) for x in range(1000, -1, -200)),
]


def test_an_s_by_offsets_asks_once_which_line_was_measured_and_is_drawn_at_once(desk, wall):
    rows = {
        f"offsets-points-{place}-{entry}": f"{figure:.2f} mm"
        for place, at in enumerate(S_CURVE)
        for entry, figure in zip(("along", "offset"), at, strict=True)
    }
    data = closed(wall, part=["offsets", "openings", "trims"], **rows, **{"offsets-tolerance": "3 mm"})
    fit = desk.post(url_of(wall, "wall_preview"), data | {"do": "fit-offsets"}).content.decode()
    assert "They bend both ways" in fit and 'value="left_framing"' in fit
    used = desk.post(url_of(wall, "wall_preview"), data | {"do": "take-fit", "fit_line": "left_framing"})
    assert used["HX-Retarget"] == "#desk" and "<svg" in used.content.decode()
    assert desk.post(url_of(wall), posted(used.context["form"].typed, seen_version=1)).status_code == 302
    turns = [piece["turn"] for piece in wall_document(wall.job.walls.get())["pieces"] if piece["shape"] == "arc"]
    assert set(turns) == {"left", "right"}
