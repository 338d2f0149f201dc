import re
from importlib.resources import files
from pathlib import Path

import pytest
from django.contrib.staticfiles import finders
from django.core.management import call_command
from django.http import HttpRequest, HttpResponse
from django.test import Client, RequestFactory, override_settings
from django.views.defaults import bad_request, permission_denied, server_error

from quoting.platform.papers.assets import FONT_NAMES
from quoting.platform.people.access import EVERYONE, route
from quoting.platform.people.models.people import Person
from quoting.platform.static_fonts import PackagedFonts
from quoting.urls import urlpatterns as real_urls


def break_down(request: HttpRequest) -> HttpResponse:
    raise RuntimeError("canary-of-the-inside")


urlpatterns = [*real_urls, route("breaks/", break_down, "breaks", GET=EVERYONE)]


def person(role: str) -> Person:
    return Person.objects.create_user(f"{role}-1", "a long password", full_name="Robin Vane", role=role)


def client_of(role: str) -> Client:
    client = Client(raise_request_exception=False)
    client.force_login(person(role))
    return client


@pytest.mark.django_db
def test_a_missing_page_answers_calmly_in_the_look() -> None:
    answer = client_of("office").get("/no-such-sheet/")
    assert answer.status_code == 404
    assert "<h1>Page not found</h1>" in answer.content.decode()
    assert "quoting/sheet.css" in answer.content.decode()


@pytest.mark.django_db
def test_a_closed_page_says_that_nothing_changed() -> None:
    answer = client_of("lead").get("/firm/people/")
    assert answer.status_code == 403
    assert "nothing was changed" in answer.content.decode()


@pytest.mark.django_db
@override_settings(ROOT_URLCONF=__name__)
def test_a_break_says_nothing_of_the_inside() -> None:
    answer = Client(raise_request_exception=False).get("/breaks/")
    assert answer.status_code == 500
    assert "Something broke on our side" in answer.content.decode()
    assert "canary-of-the-inside" not in answer.content.decode()


def test_the_pages_for_errors_need_neither_person_nor_database() -> None:
    request = RequestFactory().get("/")
    assert b"Something broke" in server_error(request).content
    assert b"could not be read" in bad_request(request, ValueError()).content
    assert b"not open to you" in permission_denied(request, ValueError()).content


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("role", "places"),
    [
        ("estimator", ["Today", "Jobs", "Buying", "Catalog"]),
        ("office", ["Today", "Jobs", "Buying", "Catalog"]),
        ("owner", ["Today", "Jobs", "Buying", "Month", "Catalog"]),
        ("lead", ["Today", "Sites", "Receiving", "Hours"]),
    ],
)
def test_each_role_has_its_own_places_in_the_masthead(role: str, places: list[str]) -> None:
    words = client_of(role).get("/account/").content.decode()
    masthead = words[words.index("<nav") : words.index("</nav>")]
    assert re.findall(r">([A-Z][a-z]+)</a>", masthead) == places


@pytest.mark.django_db
@pytest.mark.parametrize(("role", "shown"), [("owner", True), ("office", True), ("lead", False)])
def test_the_firm_stands_under_the_name_of_those_who_may_open_it(role: str, shown: bool) -> None:
    words = client_of(role).get("/more/").content.decode()
    assert ('href="/firm/"' in words) is shown


@pytest.mark.django_db
def test_the_place_shown_is_marked_and_a_page_within_it_as_well() -> None:
    desk = client_of("office")
    assert 'href="/jobs/" aria-current="page"' in desk.get("/jobs/").content.decode()
    assert 'href="/jobs/" aria-current="true"' in desk.get("/jobs/new/").content.decode()


@pytest.mark.django_db
def test_a_stranger_sees_no_navigation() -> None:
    words = Client().get("/log-in/").content.decode()
    assert "<nav" not in words
    assert "Log out" not in words


@pytest.mark.django_db
def test_logging_out_is_a_form_and_not_a_link() -> None:
    words = client_of("owner").get("/account/").content.decode()
    assert '<form method="post" action="/log-out/">' in words


@pytest.mark.django_db
def test_the_first_stop_of_the_keyboard_is_the_way_past_the_navigation() -> None:
    words = client_of("owner").get("/account/").content.decode()
    body = words[words.index("<body") :]
    assert body.index('href="#main"') == body.index("href=")
    assert 'id="main"' in body


@pytest.mark.parametrize("font", FONT_NAMES)
def test_the_fonts_are_served_from_their_package(font: str) -> None:
    result = finders.find(f"fonts/{font}")
    assert Path(result).read_bytes() == (files("font_source_sans_pro") / "files" / font).read_bytes()


@pytest.mark.parametrize("name", ["fonts/../__init__.py", "fonts/SourceSansPro-Black.ttf", "other/x.ttf", "fonts/"])
def test_nothing_else_of_the_package_is_served(name: str) -> None:
    assert PackagedFonts().find(name) == []


def test_the_manifest_links_style_sheet_and_fonts(tmp_path: Path) -> None:
    manifest = {"staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.ManifestStaticFilesStorage"}}
    with override_settings(STATIC_ROOT=tmp_path, STORAGES=manifest):
        call_command("collectstatic", verbosity=0, interactive=False)
    [sheet] = (tmp_path / "quoting").glob("sheet.*.css")
    named = {path.name for path in (tmp_path / "fonts").iterdir()}
    linked = {part.split('"')[0] for part in sheet.read_text().split('url("../fonts/')[1:]}
    assert linked
    assert linked <= named
    assert all(name.count(".") == 2 for name in linked)
