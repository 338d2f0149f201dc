"""At which addresses the service answers, and what it says at others."""

import pytest

from quoting.management.commands import serve
from quoting.management.commands.serve import greeting, reachable
from tests.service import OwnService

pytestmark = [pytest.mark.sqlite, pytest.mark.django_db]


@pytest.mark.parametrize(
    ("header", "named"),
    [("192.168.1.20", "192.168.1.20"), ("office.lan:8000", "office.lan"), ("[fe80::1]:8000", "[fe80::1]")],
)
def test_a_refused_address_is_named_with_what_to_do(client, header, named):
    answer = client.get("/log-in/", headers={"host": header})
    words = answer.content.decode()
    assert answer.status_code == 400
    assert f"This address, {named}, is not in CURVEWRIGHT_HOSTS" in words
    assert f"<code>CURVEWRIGHT_HOSTS={named} make serve</code>" in words


@pytest.mark.parametrize("header", ["<b>bold</b>", "a b", "evil.example/<script>", "x@y"])
def test_what_is_no_address_is_not_repeated(client, header):
    answer = client.get("/log-in/", headers={"host": header})
    assert answer.status_code == 400
    assert "That could not be read" in answer.content.decode()


def test_a_program_is_told_the_refused_address_in_json(client):
    answer = client.get("/api/jobs/", headers={"host": "192.168.1.20"})
    assert answer.status_code == 400
    assert answer.json()["detail"] == "This address, 192.168.1.20, is not in CURVEWRIGHT_HOSTS."


def test_an_address_in_the_hosts_opens_the_page(client, settings):
    """The control of the tests above."""
    settings.ALLOWED_HOSTS = ["192.168.1.20"]
    assert client.get("/log-in/", headers={"host": "192.168.1.20:8000"}).status_code == 200


@pytest.mark.parametrize("everywhere", ["0.0.0.0", "::"])  # noqa: S104
def test_what_listens_everywhere_is_greeted_by_an_address_others_can_open(everywhere):
    assert reachable(everywhere) not in ("0.0.0.0", "::", "")  # noqa: S104


def test_without_a_network_the_machine_goes_by_its_name(monkeypatch):
    monkeypatch.setattr(serve, "EVERY_ADDRESS", {"0.0.0.0": (serve.socket.AF_INET, "255.255.255.255")})  # noqa: S104
    monkeypatch.setattr(serve.socket, "gethostname", lambda: "Office-PC")
    assert reachable("0.0.0.0") == "office-pc"  # noqa: S104


def test_the_greeting_says_when_its_own_address_is_refused(monkeypatch, settings):
    monkeypatch.setattr(serve, "reachable", lambda host: "192.168.1.20")
    settings.NAMED_HOSTS, settings.ALLOWED_HOSTS = ["office.lan"], ["localhost", "office.lan"]
    text = greeting("0.0.0.0", 8000)  # noqa: S104
    assert "http://192.168.1.20:8000/" in text
    assert "192.168.1.20 is not in CURVEWRIGHT_HOSTS" in text
    assert "CURVEWRIGHT_HOSTS=office.lan,192.168.1.20 CURVEWRIGHT_ADDRESS=0.0.0.0:8000 make serve" in text


def test_the_greeting_says_nothing_of_an_address_that_is_open(monkeypatch, settings):
    monkeypatch.setattr(serve, "reachable", lambda host: "192.168.1.20")
    settings.ALLOWED_HOSTS = ["192.168.1.20"]
    assert "CURVEWRIGHT_HOSTS" not in greeting("0.0.0.0", 8000)  # noqa: S104


def test_the_command_for_the_first_owner_names_the_data_folder(monkeypatch, settings, tmp_path):
    settings.DATA_DIR = tmp_path / "the firm's"
    monkeypatch.setenv("CURVEWRIGHT_DATA", "the firm's")
    assert f"""  CURVEWRIGHT_DATA='{tmp_path}/the firm'"'"'s' .venv/bin/python manage.py add_owner""" in greeting(
        "::1", 1
    )
    monkeypatch.delenv("CURVEWRIGHT_DATA")
    assert "\n  .venv/bin/python manage.py add_owner" in greeting("::1", 1)


def test_production_does_not_serve_on_missing_tables(tmp_path):
    about = {"CURVEWRIGHT_MODE": "production", "CURVEWRIGHT_HOSTS": "a.example", "CURVEWRIGHT_SECRET_KEY": "k" * 60}
    process = OwnService(tmp_path).manage("serve", "--address", "127.0.0.1:1025", **about)
    assert process.returncode == 1
    assert "run manage.py migrate" in process.stderr
