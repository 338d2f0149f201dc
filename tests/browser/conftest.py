"""A real browser before the service.

`visit` opens a page as a person of a role, looks at what every page must keep, and hands the page over.
With CURVEWRIGHT_SHOTS set to a folder, every visit leaves pictures of the whole page there: wide and narrow, light
and dark.
"""

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from django.conf import settings
from django.test import Client
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, ViewportSize, sync_playwright

from jobs.jobs.models import Job
from quoting.platform.people.models import Person
from tests.stored import stored_job as store_job_of_fixtures

DESKTOP, PHONE = 1280, 390
WIDTHS = (DESKTOP, PHONE)
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
# Said on the console as well, but a console line may be missed where an event is not.
HEAR_VIOLATIONS = """
document.addEventListener("securitypolicyviolation", (event) =>
  console.error(`CSP: ${event.violatedDirective} ${event.blockedURI} ${event.sample}`));
"""

Visit = Callable[..., Page]


@pytest.fixture(scope="package")
def browser(chromium_path: str) -> Iterator[Browser]:
    # Playwright keeps an event loop in this thread, and Django takes that for asynchronous code.
    before = os.environ.get("DJANGO_ALLOW_ASYNC_UNSAFE")
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
    with (
        sync_playwright() as playwright,
        playwright.chromium.launch(executable_path=chromium_path, args=FLAGS) as chromium,
    ):
        yield chromium
    if before is None:
        del os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"]
    else:
        os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = before


@pytest.fixture
def stored_job(transactional_db: None) -> Callable[[str], Job]:
    return store_job_of_fixtures


@pytest.fixture
def person_of(transactional_db: None) -> Callable[[str], Person]:
    """The one person of a role, made when first asked for."""

    def find(role: str) -> Person:
        fields = {"role": role, "full_name": f"The {role}"}
        return Person.objects.filter(role=role).first() or Person.objects.create_user(
            f"the-{role}", "a long enough phrase", **fields
        )

    return find


@pytest.fixture
def visit(
    browser: Browser, live_server: object, person_of: Callable[[str], Person], frozen_clock: object
) -> Iterator[Visit]:
    """visit(path, role="estimator", width=DESKTOP, dark=False) -> the page, looked over at both widths."""
    contexts: list[BrowserContext] = []
    faults: list[str] = []

    def open_page(path: str, role: str = "estimator", width: int = DESKTOP, dark: bool = False) -> Page:
        context = browser.new_context(
            viewport=window(width),
            color_scheme="dark" if dark else "light",
            base_url=live_server.url,  # type: ignore[attr-defined]
        )
        contexts.append(context)
        context.add_init_script(HEAR_VIOLATIONS)
        context.add_cookies([session_cookie(person_of(role), live_server.url)])  # type: ignore[attr-defined]
        page = context.new_page()
        page.on("console", lambda message: faults.append(message.text) if is_fault(message) else None)
        page.on("pageerror", lambda error: faults.append(str(error)))
        response = page.goto(path)
        assert response is not None and response.status == 200, (path, response and response.status)
        for shown_at in sorted(WIDTHS, key=lambda number: number == width):  # as asked for comes last, and stays
            page.set_viewport_size(window(shown_at))
            look_over(page)
            for shade in (not dark, dark):
                keep_picture(page, path, role, shown_at, shade)
        return page

    yield open_page
    for context in contexts:
        context.close()
    assert faults == [], faults


def window(width: int) -> ViewportSize:
    return {"width": width, "height": 900 if width > 600 else 844}


def is_fault(message: ConsoleMessage) -> bool:
    # A preview given up for a newer one, or for the next page, is no fault; htmx says it as one.
    # So is a form that is refused: the browser says its 422 as one.
    refused = "the server responded with a status of 422" in message.text
    return (
        message.type == "error" and not refused and not message.text.startswith(("htmx:sendAbort", "htmx:afterRequest"))
    )


def look_over(page: Page) -> None:
    """What every page keeps: one heading, no sideways scrolling of the whole, every field with a name."""
    assert page.locator("h1").count() == 1, f"{page.url} has {page.locator('h1').count()} first headings"
    wide = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    assert wide <= 0, f"{page.url} is {wide} px wider than the window"
    nameless = page.evaluate(
        """[...document.querySelectorAll('input:not([type=hidden]), select, textarea')]
             .filter((field) => !field.labels.length && !field.ariaLabel && !field.getAttribute('aria-labelledby'))
             .map((field) => field.name)"""
    )
    assert nameless == [], f"fields without a label on {page.url}: {nameless}"
    doubled = page.evaluate(
        """[...document.querySelectorAll('[id]')].map((one) => one.id)
             .filter((id, place, all) => all.indexOf(id) !== place)"""
    )
    assert doubled == [], f"ids given twice on {page.url}: {doubled}"


def keep_picture(page: Page, path: str, role: str, width: int, dark: bool) -> None:
    folder = os.environ.get("CURVEWRIGHT_SHOTS")
    if folder:
        name = path.partition("?")[0].strip("/").replace("/", "-") or "home"
        name += f"-{role}-{width}{'-dark' if dark else ''}.png"
        page.emulate_media(color_scheme="dark" if dark else "light")
        page.screenshot(path=str(Path(folder) / name), full_page=True)


def session_cookie(person: Person, url: str) -> dict[str, str]:
    client = Client()
    client.force_login(person)
    return {
        "name": settings.SESSION_COOKIE_NAME,
        "value": client.cookies[settings.SESSION_COOKIE_NAME].value,
        "url": url,
    }
