import pytest
from django.core import checks
from django.db import connection

from quoting.platform.checks import production_is_closed, refuse_to_start_when_wrong, sqlite_is_safe
from tests.service import OwnService

pytestmark = pytest.mark.sqlite  # of settings, whatever the database: one turn is enough
GOOD = {
    "CURVEWRIGHT_MODE": "production",
    "CURVEWRIGHT_SECRET_KEY": "k3" * 40 + "qwertzuiop",
    "CURVEWRIGHT_HOSTS": "quotes.example",
    "CURVEWRIGHT_TIME_ZONE": "America/Toronto",
}


@pytest.fixture(scope="module")
def collected_service(tmp_path_factory):
    service = OwnService(tmp_path_factory.mktemp("collected"))
    assert service.manage("collectstatic", "--noinput", "-v0").returncode == 0
    return service


def test_the_check_for_deployment_is_clean(collected_service):
    result = collected_service.manage("check", "--deploy", "--fail-level", "WARNING", **GOOD)
    assert result.returncode == 0, result.stderr
    assert "no issues" in result.stdout


def test_static_files_nobody_collected_stop_the_start_and_say_what_to_do(tmp_path):
    for command in (["manage.py", "check", "--deploy"], ["-c", "import quoting.wsgi"]):
        process = OwnService(tmp_path).run(*command, **GOOD)
        assert process.returncode != 0
        assert "quoting.E007" in process.stderr
        assert "manage.py collectstatic" in process.stderr


def test_a_static_file_that_came_with_an_upgrade_is_missed(collected_service):
    path = collected_service.folder / "static" / "staticfiles.json"
    collected = path.read_text()
    path.write_text(collected.replace('"quoting/sheet.css"', '"quoting/old.css"'))
    result = collected_service.manage("check", "--deploy", **GOOD)
    path.write_text(collected)
    assert "(quoting.E007) 1 static files are not collected" in result.stderr


@pytest.mark.parametrize(("chosen", "seconds"), [({}, 0), ({"CURVEWRIGHT_HSTS_SECONDS": "3600"}, 3600)])
def test_browsers_are_bound_to_https_by_choice_and_at_this_host_alone(collected_service, chosen, seconds):
    ask = """import django; from django.core.management import call_command; from quoting import settings
django.setup(); call_command("check", deploy=True, fail_level="WARNING")
print([getattr(settings, "SECURE_HSTS_" + name, 0) for name in ("SECONDS", "INCLUDE_SUBDOMAINS", "PRELOAD")])"""
    run = collected_service.run("-c", ask, **GOOD | chosen)
    assert run.stdout.splitlines()[-1] == f"{[seconds, 0, 0]}", run.stderr


def test_production_does_not_start_when_it_is_open(own_service):
    wrong = {"CURVEWRIGHT_DEBUG": "1", "CURVEWRIGHT_SECRET_KEY": "short", "CURVEWRIGHT_HOSTS": "*"}
    run = own_service.run("-c", "import quoting.wsgi", **GOOD | wrong)
    assert run.returncode != 0
    assert run.stderr.count("\n- ") >= 3
    for code in ("E001", "E002", "E003"):
        assert f"quoting.{code}" in run.stderr


@pytest.mark.parametrize(
    ("name", "value", "code"),
    [
        ("SECRET_KEY", "django-insecure-" + "x" * 60, "E002"),
        ("SECRET_KEY", "short", "E002"),
        ("NAMED_HOSTS", ["*"], "E003"),
        ("NAMED_HOSTS", ["quotes.example", ".example"], "E003"),
        ("NAMED_HOSTS", [], "E003"),
        ("DEBUG", True, "E001"),
    ],
)
def test_each_way_of_being_open_is_an_error_of_its_own(settings, name, value, code):
    closed = {"PRODUCTION": True, "DEBUG": False, "SECRET_KEY": "k3" * 40, "NAMED_HOSTS": ["quotes.example"]}
    for setting, right in closed.items():
        setattr(settings, setting, right)
    assert production_is_closed(None) == []
    setattr(settings, name, value)
    assert [error.id for error in production_is_closed(None)] == [f"quoting.{code}"]


def test_nor_do_its_other_processes(own_service):
    processes = own_service.manage("tick", "--once", **GOOD | {"CURVEWRIGHT_DEBUG": "1"})
    assert processes.returncode != 0
    assert "quoting.E001" in processes.stderr


def test_production_starts_when_it_is_closed(collected_service):
    """The control of the test above."""
    assert collected_service.run("-c", "import quoting.wsgi", **GOOD).returncode == 0


@pytest.mark.parametrize("mode", ["embedded", "production"])
def test_host_names_come_on_top_of_this_machine_s_own(tmp_path, mode):
    ask = "from quoting import settings as s; print(*s.ALLOWED_HOSTS)"
    process = OwnService(tmp_path).run(
        "-c", ask, **GOOD | {"CURVEWRIGHT_MODE": mode, "CURVEWRIGHT_HOSTS": "192.168.1.20"}
    )
    assert process.stdout == "localhost 127.0.0.1 [::1] 192.168.1.20\n"


def test_the_embedded_service_may_have_no_host_names_of_its_own(settings):
    settings.NAMED_HOSTS, settings.DEBUG = [], True
    assert production_is_closed(None) == []


def test_sqlite_is_opened_safely(db):
    assert sqlite_is_safe(None, databases=["default"]) == []


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize(("pragma", "wrong", "right"), [("synchronous", "OFF", "FULL"), ("foreign_keys", "OFF", "ON")])
def test_an_unsafe_pragma_is_found(pragma, wrong, right):
    with connection.cursor() as cursor:
        cursor.execute(f"PRAGMA {pragma} = {wrong}")
        try:
            result = sqlite_is_safe(None, databases=["default"])
        finally:
            cursor.execute(f"PRAGMA {pragma} = {right}")
    assert [message.id for message in result] == ["quoting.E005"]
    assert pragma in result[0].msg


@pytest.mark.parametrize(("option", "wrong"), [("timeout", 1), ("transaction_mode", "DEFERRED")])
def test_options_that_lose_to_a_lock_are_found(db, settings, monkeypatch, option, wrong):
    monkeypatch.setitem(settings.DATABASES["default"]["OPTIONS"], option, wrong)
    assert [message.id for message in sqlite_is_safe(None, databases=["default"])] == ["quoting.E006"]


def test_errors_stop_the_start_and_are_told(monkeypatch):
    monkeypatch.setattr(checks, "run_checks", lambda **options: [checks.Error("The saw is blunt.", id="x.E1")])
    with pytest.raises(SystemExit, match="does not start(?s:.)*The saw is blunt"):
        refuse_to_start_when_wrong()


def test_warnings_stop_nothing(monkeypatch):
    monkeypatch.setattr(checks, "run_checks", lambda **options: [checks.Warning("Dusty.", id="x.W1")])
    refuse_to_start_when_wrong()


@pytest.mark.django_db
def test_pages_come_with_the_headers_that_protect_them(client):
    answer = client.get("/log-in/")
    policy = answer["Content-Security-Policy"]
    assert "unsafe" not in policy
    for directive in (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "frame-ancestors 'none'",
    ):
        assert directive in policy
    assert answer["X-Frame-Options"] == "DENY"
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Referrer-Policy"] == "same-origin"


@pytest.mark.django_db
@pytest.mark.parametrize("name", ["csrftoken"])
def test_cookies_are_kept_to_this_site(client, name):
    assert client.get("/log-in/").cookies[name]["samesite"] == "Lax"


def test_static_files_are_collected_under_names_made_from_their_contents(own_service):
    contents = own_service.manage("collectstatic", "--noinput", "-v0")
    assert contents.returncode == 0, contents.stderr
    assert (own_service.folder / "static" / "staticfiles.json").exists()
