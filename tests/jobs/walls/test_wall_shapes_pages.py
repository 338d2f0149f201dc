"""Arches, half walls, corners and pieces to a template, from the form to the page, the store and its history."""

import pytest
from django.urls import reverse

from jobs.walls.models import Opening, RoomTie, Wall
from jobs.walls.pages.form.typed_wall import TypedWall, typed_of
from jobs.walls.services.walls import copy_wall
from tests.stored import stored_job
from tests.support.wall_posts import posted, with_row

pytestmark = pytest.mark.usefixtures("frozen_clock")


@pytest.fixture
def wall(db):
    return stored_job("larkmoor-dental").walls.get()


@pytest.fixture
def desk(client, make_person):
    client.force_login(make_person("estimator"))
    return client


def url_of(wall):
    return reverse("wall", args=[wall.job_id, wall.key])


def entries_with(wall, pieces, opening=None, **entry) -> TypedWall:
    """The stored wall's form with other pieces and openings, and no trim."""
    entries = typed_of(wall.to_core(), "imperial")
    for name in ("pieces", "openings", "trims"):
        entries.put(name, [])
    for row in pieces:
        with_row(entries, "pieces", **row)
    if opening:
        with_row(entries, "openings", **opening)
    entries.texts |= {"measured_on": "centre"} | {name.replace("__", "-"): text for name, text in entry.items()}
    return entries


def save(desk, wall, entries):
    answer = desk.post(url_of(wall), posted(entries, seen_version=wall.version))
    assert answer.status_code == 302, answer.context["form"].errors
    wall.refresh_from_db()
    wall.forget_parts()


ARCHED = {
    "name": "Pass", "centre_at": "8'", "width": "96", "height": "7'", "head": "arch", "arch_rise": "24",
    "casing_legs": "BASE-514-FLEX", "casing_reveal": "3/16", "casing_faces": "left",
}  # fmt: skip


def test_an_arch_is_entered_shown_kept_and_its_change_told(desk, wall):
    straight = [{"way": "straight", "length": "16'"}]
    save(desk, wall, entries_with(wall, straight, ARCHED))
    page = desk.get(f"{url_of(wall)}?show=framing").content.decode()
    # Chord 96, rise 24 is R 60: the carpentry worked example; its arc 111.275 in.
    assert "R 5&#x27; 0&quot;" in page and "9&#x27; 3-1/4&quot;" in page
    assert "arch_track" in page  # a missing material is named, not left out
    save(desk, wall, entries_with(wall, straight, ARCHED | {"arch_rise": "20"}))
    stored = Opening.history.filter(wall_id=wall.pk).order_by("history_id")
    assert [entry.arch_rise_mm and float(entry.arch_rise_mm) for entry in stored][-2:] == [609.6, 508.0]


def test_a_level_door_is_cased_and_its_casing_stands_on_the_page(desk, wall):
    level = ARCHED | {"head": "level", "arch_rise": "", "height": "7'"}
    save(desk, wall, entries_with(wall, [{"way": "straight", "length": "16'"}], level))
    # 96 wide, 5-1/4 in casing, reveal 3/16: head 96 + 2 x 5-7/16 = 106-7/8 in; legs 84 + 5-7/16 = 89-7/16 in.
    page = desk.get(f"{url_of(wall)}?show=framing").content.decode()
    assert "8&#x27; 10-7/8&quot;" in page and "7&#x27; 5-7/16&quot;" in page


def test_a_rise_over_half_the_width_is_refused_beside_its_entry(desk, wall):
    entries = entries_with(wall, [{"way": "straight", "length": "16'"}], ARCHED | {"arch_rise": "60"})
    answer = desk.post(url_of(wall), posted(entries, seen_version=wall.version))
    assert answer.status_code == 422
    assert "half circle" in answer.context["form"].errors["openings-0-arch_rise"][0]
    assert Wall.objects.get().to_core().openings[0].arch_rise_mm is None


def test_a_half_wall_round_a_corner_and_a_template_comes_back_as_it_was_entered(desk, wall):
    pieces = [
        {"way": "straight", "length": "6'"},
        {"way": "corner", "turn": "left", "radius": "12"},
        {"way": "template", "length": "10'", "chord": "9'", "turned": "-40", "template": "Oval A"},
    ]
    shape = {"top": "free", "ends__start": "meets", "ends__studs": "2", "height": "42"}
    save(desk, wall, entries_with(wall, pieces, **shape))
    again = typed_of(wall.to_core(), "imperial")
    assert [row["way"] for row in again.rows("pieces")] == ["straight", "corner", "template"]
    assert again.rows("pieces")[2]["turned"] == "-40" and again.texts["ends-studs"] == "2"
    page = desk.get(f"{url_of(wall)}?show=framing").content.decode()
    assert "to a template only" in page and "A half wall" in page and "Curved corner" in page


# The dental's chord of 168 in, start at the column, the corner 126 in square off it: 3-4-5, 210 in to the end.
IN_THE_ROOM = {
    "room-first": "Column C4", "room-second": "Corner", "room-apart": "126", "room-side": "left",
    "room-first_to_start": "0", "room-second_to_start": "126", "room-first_to_point": "168",
    "room-second_to_point": "210",
}  # fmt: skip


def test_a_wall_is_tied_to_the_building_kept_and_its_diagonals_shown(desk, wall):
    entries = typed_of(wall.to_core(), "imperial")
    entries.texts |= IN_THE_ROOM
    save(desk, wall, entries)
    again = typed_of(wall.to_core(), "imperial").texts
    assert again["room-second"] == "Corner" and again["room-second_to_point"] == "17' 6\""
    page = desk.get(f"{url_of(wall)}?show=measured").content.decode()
    assert "Corner to the end" in page and "17&#x27; 6&quot;" in page
    assert RoomTie.history.filter(wall_id=wall.pk).count() == 1
    assert copy_wall(wall).to_core().room is None


def test_tapes_that_do_not_meet_are_refused_beside_their_entry(desk, wall):
    entries = typed_of(wall.to_core(), "imperial")
    entries.texts |= IN_THE_ROOM | {"room-second_to_start": "9"}
    answer = desk.post(url_of(wall), posted(entries, seen_version=wall.version))
    assert answer.status_code == 422
    assert "do not meet" in answer.context["form"].errors["room-second_to_start"][0]
    assert not RoomTie.objects.exists()


def test_what_the_ends_and_the_top_meet_is_entered_and_kept(desk, wall):
    entries = typed_of(wall.to_core(), "imperial")
    entries.texts |= {"top": "deck", "ends-start": "column", "ends-end": "meets"}
    save(desk, wall, entries)
    stored = wall.to_core()
    assert (stored.top, stored.ends.start, stored.ends.end) == ("deck", "column", "meets")
