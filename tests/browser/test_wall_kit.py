"""A wall's own materials, chosen on its page."""

import re

import pytest
from playwright.sync_api import expect

from jobs.walls.models import Wall

pytestmark = pytest.mark.browser


def test_a_role_is_chosen_then_one_of_its_materials_and_saved(visit, stored_job):
    wall = stored_job("larkmoor-dental").walls.get()
    page = visit(f"/jobs/{wall.job_id}/walls/{wall.key}/", "estimator")
    page.locator("#line-kit > summary").click()
    page.get_by_role("button", name="Add an own material").click()
    page.get_by_label("Used as").select_option(label="Screws, board to stud")
    material = page.locator("#kit-0-instead")
    expect(material.locator("option", has_text="(SCREW-158)")).to_have_count(1)
    material.select_option("SCREW-158")
    expect(page.locator("#preview-said")).to_contain_text("Not saved yet")
    page.get_by_role("button", name="Save the wall", exact=True).click()
    expect(page.locator(".message.success")).to_be_visible()
    assert dict(Wall.objects.get().to_core().kit) == {"board_screw": ("SCREW-158",)}
    page.locator("#line-kit > summary").click()
    page.get_by_role("button", name=re.compile("Remove.*Own material 1")).click()
    expect(page.locator("#kit-0-role")).to_have_count(0)
