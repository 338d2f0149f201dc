"""The wall's page while somebody types."""

import re

import pytest
from playwright.sync_api import expect

from jobs.walls.models import Wall

pytestmark = pytest.mark.browser


@pytest.fixture
def page(visit, stored_job):
    wall = stored_job("larkmoor-dental").walls.get()
    return visit(f"/jobs/{wall.job_id}/walls/{wall.key}/")


def test_the_drawing_and_the_figures_follow_what_is_typed_and_nothing_is_saved(page):
    """Machinery's Handbook: chord 168 in and rise 24 in give a radius of 159.00 in."""
    before = page.locator("#drawing svg").first.inner_html()
    page.get_by_label("Rise", exact=True).fill("24")
    expect(page.locator("#figures")).to_contain_text("159.00 in")
    expect(page.locator("#preview-said")).to_contain_text("Not saved yet")
    assert page.locator("#drawing svg").first.inner_html() != before
    assert Wall.objects.get().version == 1


def test_the_wall_standing_is_one_of_the_views_and_stays_while_somebody_types(page):
    drawing = page.locator("#drawing svg > title").last
    assert drawing.text_content() == "Reception screen: plan"
    page.get_by_role("link", name="Standing").click()
    expect(drawing).to_have_text("Reception screen: standing")
    before = page.locator("#drawing svg").last.inner_html()
    page.get_by_label("Rise", exact=True).fill("24")
    expect(page.locator("#figures")).to_contain_text("159.00 in")
    assert drawing.text_content() == "Reception screen: standing"
    assert page.locator("#drawing svg").last.inner_html() != before


def test_what_is_asked_for_below_the_lines_follows_what_is_typed(page):
    """A wall 8' high has studs of 8', less the track."""
    page.get_by_role("link", name="Framing").click()
    expect(page.locator("#more")).to_contain_text("studs, cripples and sheet-end studs")
    before = page.locator("#more").inner_text()
    page.get_by_label("Height", exact=True).fill("8'")
    expect(page.locator("#more")).not_to_have_text(before)
    expect(page.locator("#more")).to_contain_text("Cut:")


def test_a_wrong_figure_is_told_beside_it_keeps_the_drawing_and_is_forgiven(page):
    drawn = page.locator("#drawing svg").first.inner_html()
    page.get_by_label("Rise", exact=True).fill("")
    text = page.locator("#pieces-0-rise_error")
    expect(text).to_contain_text("Rise")
    expect(page.locator("#preview-said")).to_contain_text("1 field needs fixing")
    assert page.locator("#drawing svg").first.inner_html() == drawn
    page.get_by_label("Rise", exact=True).fill("2' 6\"")
    expect(text).to_be_empty()


def test_another_way_of_giving_the_arc_is_chosen_and_filled_by_keyboard_alone(page):
    page.locator("#open-pieces-0-given").focus()
    page.keyboard.press("Enter")
    page.get_by_label("Measured as").select_option("radius_angle")
    expect(page.get_by_label("Angle", exact=True)).to_be_visible()
    page.get_by_label("Radius", exact=True).focus()
    page.keyboard.type("132.6")
    page.keyboard.press("Tab")
    page.keyboard.type("78.6")
    expect(page.locator("#figures")).to_contain_text("132.60 in")
    page.keyboard.press("Enter")
    expect(page.locator(".message.success")).to_contain_text(
        "Saved Reception screen: angle, radius and measured as. Nothing"
    )
    assert Wall.objects.get().pieces.get().given_by == "radius_angle"


def test_a_piece_is_added_and_the_joint_is_told(page):
    page.get_by_role("button", name="Add a piece").click()
    expect(page.locator("#pieces-1-way")).to_be_visible()
    page.locator("#pieces-1-way").select_option("straight")
    page.locator("#pieces-1-length").fill("44")
    expect(page.locator("#figures")).to_contain_text("Piece 2: straight")
    page.get_by_role("button", name=re.compile("Remove.*Piece 2")).click()
    expect(page.locator("#pieces-1-way")).to_have_count(0)


def test_a_failed_bend_takes_a_reason_where_it_is_told(page):
    """GA-226-08, Table 1: 1/4 in board lengthwise, dry, at least 60 in."""
    page.locator("#line-openings > summary").click()
    page.get_by_role("button", name=re.compile("Remove.*Opening 1")).click()
    page.get_by_label("Chord", exact=True).fill("100")
    page.get_by_label("Rise", exact=True).fill("40")
    decision = page.locator(".decision", has_text="Concave boards, left face")
    expect(decision).to_contain_text("Needs 5' 0\"")
    number = decision.locator(".number").inner_text()
    expect(page.locator("#drawing .wide-only .red-text", has_text=re.compile(f"^{number}$"))).to_have_count(1)
    decision.get_by_text("Build as is, with a reason").click()
    decision.get_by_label("Why it may be built so").fill("A mock-up held")
    page.get_by_role("button", name="Save the wall", exact=True).click()
    expect(page.locator(".message.success")).to_contain_text("Next: decide")
    stored = Wall.objects.get().overrides.values_list("key", "reason")
    assert dict(stored) == {f"reception-screen/left/layer-{n}/piece-1/bend": "A mock-up held" for n in (1, 2)}
