import pytest

from tests.browser.conftest import PHONE

pytestmark = pytest.mark.browser


def test_the_lead_reads_a_wall_to_set_it_out(visit, stored_job):
    job = stored_job("larkmoor-dental")
    page = visit(f"/jobs/{job.pk}/site/walls/{job.walls.get().key}/", "lead")
    # Plan, section, and each of two faces once a layer of two.
    assert page.locator(".site-plan svg").count() == 1 and page.locator("figure.wide-only svg").count() == 5
    page.locator("#setting-out > summary").click()
    page.get_by_text("Piece 1, convex framing face (right)").click()
    assert "rise 2' 6\"" in page.locator("main").inner_text()
    page.locator("#full-size > summary").click()
    assert page.get_by_role("button", name="Make the full-size sheets").is_visible()


def test_the_lead_asks_for_the_site_sheet_and_sees_how_far_it_is(visit, stored_job):
    job = stored_job("brightwell-childcare")
    page = visit(f"/jobs/{job.pk}/site/", "lead")
    page.get_by_text("On paper").click()
    page.get_by_label("Paper", exact=True).select_option("a4")
    page.get_by_role("button", name="Make the site sheet").click()
    assert "Making the PDF" in page.locator(".paper-progress").inner_text()


def test_a_chain_of_pieces_and_a_sloping_wall_are_shown_whole(visit, stored_job):
    for name in ("merrow-finch-boutique", "ashgrove-library"):
        job = stored_job(name)
        page = visit(f"/jobs/{job.pk}/site/walls/{job.walls.first().key}/", "lead")
        assert page.locator(".figure-table").count() > 8


def test_the_field_check_asks_one_dimension_a_step_and_keeps_what_is_typed(visit, stored_job):
    job = stored_job("larkmoor-dental")
    path = f"/jobs/{job.pk}/site/walls/{job.walls.get().key}/field-check/"
    page = visit(path, "lead", PHONE)
    # One box, and its photo.
    assert page.locator("form[data-steps] input:not([type=hidden], [type=file]):visible").count() == 1
    assert page.locator("form[data-steps] input[type=file]:visible").count() == 1
    page.get_by_role("button", name="Next").click()
    page.get_by_label("Piece 1, rise").fill("31")
    page.reload()
    assert page.locator('[name="pieces[0].rise"]').input_value() == "31"
    while page.get_by_role("button", name="Next").is_visible():
        page.get_by_role("button", name="Next").click()
    page.get_by_role("button", name="Show what moves").click()
    # Rise 31 in for 30: R 132.60 to 129.31 in.
    page.get_by_text("129.31 in").wait_for()
