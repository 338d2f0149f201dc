"""Drawings as they are shown: redrawn for the width, none scrolled sideways, lettering of 12 px and more."""

import pytest

from tests.browser.conftest import DESKTOP, PHONE

pytestmark = pytest.mark.browser

LETTERING = """() => [...document.querySelectorAll(".drawing svg text")]
  .filter((text) => text.checkVisibility())
  .map((text) => { const to = text.getScreenCTM();
    return parseFloat(getComputedStyle(text).fontSize) * Math.hypot(to.a, to.b); })"""
SIDEWAYS = """() => [...document.querySelectorAll(".drawing")]
  .filter((one) => one.getClientRects().length && one.scrollWidth > one.clientWidth + 1).length"""


@pytest.mark.parametrize("width", [DESKTOP, PHONE])
@pytest.mark.parametrize("name", ["larkmoor-dental", "merrow-finch-boutique", "ashgrove-library"])
def test_no_lettering_of_a_walls_drawings_is_under_12_px(visit, stored_job, name, width):
    job = stored_job(name)
    wall = job.walls.first().key
    for path in (f"/jobs/{job.pk}/", f"/jobs/{job.pk}/walls/{wall}/", f"/jobs/{job.pk}/site/walls/{wall}/"):
        page = visit(path, "estimator", width=width)
        page.evaluate("document.querySelectorAll('details').forEach((one) => one.open = true)")
        sizes = page.evaluate(LETTERING)
        assert sizes and min(sizes) > 11.9, path
        assert page.evaluate(SIDEWAYS) == 0
