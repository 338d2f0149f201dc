"""What README says about production, followed word by word."""

import configparser
import http.client
import json
import os
import re
import shlex
import signal
import subprocess
import time
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlencode, urlsplit

import pytest

from tests.servers import ends_with_parent, free_port, own_redis, program

pytestmark = pytest.mark.sqlite  # brings a PostgreSQL of its own: one turn is enough
ROOT = Path(__file__).resolve().parents[3]
README = (ROOT / "README.md").read_text(encoding="utf-8")
SECTION = README.partition("\n## In production\n")[2].partition("\n## ")[0]
BLOCK = re.compile(r"^```(\w+)\n(.*?)^```$", re.DOTALL | re.MULTILINE)
VARIABLE = re.compile(r"CURVEWRIGHT_[A-Z]+(?:_[A-Z]+)*")


@dataclass
class Guide:
    """README's blocks, with the places of this machine put in for those of the example."""

    folder: Path
    places: dict[str, str]
    blocks: list[tuple[str, str]] = field(default_factory=list)
    service: subprocess.Popen[bytes] | None = None

    def __post_init__(self) -> None:
        text = SECTION
        for written, meant in self.places.items():
            assert written in text, written
            text = text.replace(written, meant)
        self.blocks = BLOCK.findall(text)

    def block(self, holding: str, language: str = "sh") -> str:
        (result,) = [text for kind, text in self.blocks if kind == language and holding in text]
        return result

    def run(self, block: str) -> str:
        """In an environment that holds nothing."""
        process = subprocess.run(
            ["sh", "-eu"], input=block, cwd=self.folder, env=bare_environment(), capture_output=True, text=True,
            preexec_fn=ends_with_parent(signal.SIGTERM),
        )  # fmt: skip
        assert process.returncode == 0, process.stdout + process.stderr
        return process.stdout

    def start_service(self) -> None:
        unit = configparser.ConfigParser(interpolation=None)
        unit.optionxform = str  # type: ignore[assignment,method-assign]
        unit.read_string(self.block("[Service]", "ini"))
        service = unit["Service"]
        lines = Path(service["EnvironmentFile"]).read_text().splitlines()
        settings = dict(shlex.split(line)[0].split("=", 1) for line in lines)
        with open(self.folder / "journal", "a") as journal:
            self.service = subprocess.Popen(
                shlex.split(service["ExecStart"]), cwd=service["WorkingDirectory"], env=bare_environment() | settings,
                stdout=journal, stderr=journal, start_new_session=True, preexec_fn=ends_with_parent(signal.SIGTERM),
            )  # fmt: skip

    def stop_service(self) -> None:
        if self.service is None:
            return
        self.service.send_signal(signal.SIGTERM)
        try:
            self.service.wait(60)
        except subprocess.TimeoutExpired:
            os.killpg(self.service.pid, signal.SIGKILL)
            self.service.wait()
        self.service = None

    def ask(self, method: str, path: str, body: str = "", **headers: str) -> http.client.HTTPResponse:
        """As the proxy would, with the headers it is told to set."""
        proxy = self.block("proxy_pass", "nginx")
        known = {"$host": "quotes.example", "$scheme": "https", "$proxy_add_x_forwarded_for": "203.0.113.9"}
        written = {name: known[value] for name, value in re.findall(r"proxy_set_header (\S+) (\S+);", proxy)}
        (address,) = re.findall(r"proxy_pass http://(\S+);", proxy)
        connection = http.client.HTTPConnection(address, timeout=60)
        connection.request(method, path, body, written | headers)
        return connection.getresponse()


def bare_environment() -> dict[str, str]:
    servers = Path(program("pg_dump")).parent
    return {"PATH": f"{servers}:{os.environ['PATH']}", "HOME": "/nonexistent", "LC_ALL": "C.UTF-8"}


def make_database(guide: Guide, url: str) -> None:
    host = url.partition("?host=")[2]
    (commands,) = re.findall(r'su postgres -c "(.*)"', guide.block("# as root"))
    guide.run(f"export PGHOST={host} PGUSER=curvewright\n{commands}")


def wait_until_ready(guide: Guide) -> None:
    ends_at = time.monotonic() + 300
    says = ""
    while time.monotonic() < ends_at:
        try:
            says = guide.run(guide.block("/health/ready"))
        except AssertionError:
            pass  # nothing listens yet
        if says and json.loads(says)["status"] == "ok":
            return
        time.sleep(1)
    raise AssertionError(says + (guide.folder / "journal").read_text())


@pytest.fixture
def machine(tmp_path, own_postgresql_url):
    """A new machine with its servers, on which nobody has followed the guide."""
    (tmp_path / "code").symlink_to(ROOT)
    with own_redis() as redis_url:
        places = {
            "postgresql://curvewright@/curvewright?host=/var/run/postgresql": own_postgresql_url.replace(
                "curvewright@/postgres", "guided@/guided"
            ),
            "createuser curvewright && createdb --owner curvewright curvewright": (
                "createuser guided && createdb --owner guided guided"
            ),
            "redis://127.0.0.1:6379/0": redis_url,
            "127.0.0.1:8000": f"127.0.0.1:{free_port()}",
            "/srv/curvewright": str(tmp_path),
            "make setup\n": "\n",  # the suite's own environment
        }
        guide = Guide(tmp_path, places)
        make_database(guide, own_postgresql_url)
        try:
            yield guide
        finally:
            guide.stop_service()


def log_in(guide: Guide, password: str) -> http.client.HTTPResponse:
    page = guide.ask("GET", "/log-in/")
    (token,) = re.findall(r'name="csrfmiddlewaretoken" value="(\w+)"', page.read().decode())
    form = urlencode({"csrfmiddlewaretoken": token, "username": "nora", "password": password})
    headers = {"Cookie": page.getheader("Set-Cookie").partition(";")[0], "Referer": "https://quotes.example/log-in/"}
    return guide.ask("POST", "/log-in/", form, **headers, **{"Content-Type": "application/x-www-form-urlencoded"})


def opens_with_its_style_sheets(guide: Guide) -> None:
    page = guide.ask("GET", "/log-in/")
    sheets = re.findall(r'href="(/static/[^"]+\.css)"', page.read().decode())
    assert page.status == 200
    assert {path: guide.ask("GET", path).status for path in sheets} == dict.fromkeys(sheets, 200)
    assert any(re.search(r"sheet\.[0-9a-f]{12}\.css", path) for path in sheets)


def lets_in_the_password_alone(guide: Guide, password: str) -> None:
    assert log_in(guide, "not the password").status == 200
    answer = log_in(guide, password)
    assert (answer.status, urlsplit(answer.getheader("Location")).path) == (302, "/")
    assert "sessionid" in answer.getheader("Set-Cookie")


def comes_back_from_the_last_night(guide: Guide, password: str) -> None:
    photo = guide.folder / "data" / "files" / "photos" / "a.jpg"
    photo.parent.mkdir(parents=True)
    photo.write_bytes(b"a picture")
    assert guide.run(guide.block("nightly")) == ""
    guide.stop_service()
    photo.unlink()
    guide.run("""set -a; . ./settings; psql -qc "UPDATE quoting_person SET password = 'gone'" "$DATABASE_URL" """)
    assert "in order" in guide.run(guide.block("pg_restore"))
    assert photo.read_bytes() == b"a picture"
    guide.start_service()
    wait_until_ready(guide)
    lets_in_the_password_alone(guide, password)


@pytest.mark.faults
@pytest.mark.faults_alone
def test_the_guide_leads_to_a_log_in_and_back_to_it_after_a_loss(machine):
    text = machine.run(machine.block("add_owner"))
    password = text.rpartition("shown once: ")[2].strip()
    machine.start_service()
    wait_until_ready(machine)
    opens_with_its_style_sheets(machine)
    lets_in_the_password_alone(machine, password)
    comes_back_from_the_last_night(machine, password)


def test_every_command_of_the_guide_can_be_read_by_a_shell():
    for kind, text in BLOCK.findall(SECTION):
        if kind == "sh":
            assert subprocess.run(["sh", "-n"], input=text, text=True).returncode == 0


def test_the_proxy_of_the_guide_logs_no_address():
    (proxy,) = [text for kind, text in BLOCK.findall(SECTION) if kind == "nginx"]
    assert proxy.count("server {") == proxy.count("access_log off;") == 2
    assert "error_log /var/log/nginx/curvewright.log crit;" in proxy


def test_every_variable_the_code_reads_is_explained_and_no_other():
    table = {name for row in re.findall(r"^\| (`.*?) \|", SECTION, re.MULTILINE) for name in VARIABLE.findall(row)}
    developers = set(VARIABLE.findall((ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")))
    assert table == variables_of("quoting", "jobs", "catalog") - developers
    assert variables_of("tests", ".ci", "Makefile") <= table | developers


def variables_of(*places: str) -> set[str]:
    files = [path for place in places for path in [ROOT / place, *(ROOT / place).rglob("*")] if path.is_file()]
    texts = (path.read_text(encoding="utf-8") for path in files if path.suffix in ("", ".py"))
    return {name for text in texts for name in VARIABLE.findall(text)}
