"""A wall's own materials, chosen on its page."""

import re
from contextlib import contextmanager

import pytest
from playwright.sync_api import expect

from jobs.walls.models import Wall

pytestmark = pytest.mark.browser


@contextmanager
def settled(page):
    """A form just put in place hears what is typed once it has settled, which a program can be quicker than."""
    done = page.evaluate_handle(
        """() => ({ promise: new Promise((told) =>
             document.body.addEventListener("htmx:afterSettle", () => told(true), { once: true })) })"""
    )
    yield
    page.evaluate("(done) => done.promise", done)


def test_a_role_is_chosen_then_one_of_its_materials_and_saved(visit, stored_job):
    wall = stored_job("larkmoor-dental").walls.get()
    page = visit(f"/jobs/{wall.job_id}/walls/{wall.key}/", "estimator")
    page.get_by_text("Materials that differ from the firm's kit").click()
    with settled(page):
        page.get_by_role("button", name="Add an own material").click()
    with settled(page):
        page.get_by_label("Used as").select_option(label="Screws, board to stud")
    material = page.locator("#kit-0-instead")
    expect(material.locator("option", has_text="(SCREW-158)")).to_have_count(1)
    material.select_option("SCREW-158")
    expect(page.locator("#preview-said")).to_contain_text("not saved yet")
    page.get_by_role("button", name="Save", exact=True).last.click()
    expect(page.locator(".message.success")).to_be_visible()
    assert dict(Wall.objects.get().to_core().kit) == {"board_screw": ("SCREW-158",)}
    with settled(page):
        page.get_by_role("button", name=re.compile("Remove.*Own material 1")).click()
    expect(page.locator("#kit-0-role")).to_have_count(0)
