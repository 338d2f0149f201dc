import os
from pathlib import Path

import pytest

from tests.browser.conftest import HEAR_VIOLATIONS, _session_cookie

pytestmark = pytest.mark.browser


def test_the_docs_of_the_api_are_read_without_a_network(browser, live_server, person_of, frozen_clock):
    context = browser.new_context(base_url=live_server.url, viewport={"width": 1280, "height": 900})
    context.add_init_script(HEAR_VIOLATIONS)
    context.add_cookies([_session_cookie(person_of("estimator"), live_server.url)])
    page = context.new_page()
    faults, asked = [], []
    page.on("console", lambda said: faults.append(said.text) if said.type == "error" else None)
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("request", lambda request: asked.append(request.url))
    page.goto("/api/docs")
    page.locator("#operations-tag-work-up").click(timeout=30_000)
    page.get_by_text("/api/work-up", exact=True).first.wait_for(timeout=30_000)
    elsewhere = [url for url in asked if not url.startswith((live_server.url, "data:", "blob:"))]
    assert elsewhere == []
    if os.environ.get("CURVEWRIGHT_SHOTS"):
        page.screenshot(path=str(Path(os.environ["CURVEWRIGHT_SHOTS"]) / "api-docs.png"))
    assert faults == []
    context.close()
