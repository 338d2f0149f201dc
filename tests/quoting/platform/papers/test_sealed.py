import os
import socket
import subprocess
import sys
import threading
from contextlib import suppress
from dataclasses import fields
from pathlib import Path

import pytest

from quoting.platform import failpoints
from quoting.platform.papers.errors import (
    PaperError,
    PaperOutOfMemory,
    PaperRefused,
    PaperTimeOut,
    PaperTooLong,
)
from quoting.platform.papers.limits import RenderLimits
from quoting.platform.papers.sealed import PROJECT, _bare_environment, render_pdf
from tests.support.paper_reading import open_paper, whole_text

CANARY = "canary-7731"
LONG_TABLE = (
    '<html lang="en"><title>x</title><table>' + "<tr><td>one</td><td>two</td></tr>" * 60_000 + "</table></html>"
)


def page(body: str, head: str = "") -> str:
    return f'<html lang="en"><head><title>x</title>{head}</head><body>{body}</body></html>'


def own_children() -> set[str]:
    """Processes started here, dead ones nobody has waited for included. Other tests may keep some running."""
    started = set()
    for process in Path("/proc").glob("[0-9]*"):
        with suppress(OSError):  # one that ended meanwhile
            parent = (process / "stat").read_text().rpartition(")")[2].split()[1]
            started |= {process.name} if parent == str(os.getpid()) else set()
    return started


@pytest.fixture
def canary(tmp_path: Path) -> Path:
    path = tmp_path / "canary.css"
    path.write_text(f'body::before {{ content: "{CANARY}" }}')
    return path


def asking_for(url: str) -> list[str]:
    return [
        page("", f'<link rel="stylesheet" href="{url}">'),
        page("", f'<style>@import "{url}";</style>'),
        page("", f'<style>@font-face {{ font-family: x; src: url("{url}") }} p {{ font-family: x }}</style>'),
        page(f'<img src="{url}" alt="x">'),
        page(f'<p style="background: url({url})">x</p>'),
        page(f'<object data="{url}"></object>'),
        page(f'<embed src="{url}">'),
    ]


@pytest.mark.parametrize("shape", range(len(asking_for(""))))
def test_a_paper_that_asks_for_a_file_is_refused(canary: Path, shape: int) -> None:
    with pytest.raises(PaperRefused, match=r"file:.*canary.css.*not one of its own"):
        render_pdf(asking_for(canary.as_uri())[shape], title="x")


def test_the_same_paper_reads_the_file_when_nothing_guards_it(canary: Path) -> None:
    """The control: the bare library does fetch, so the refusal above is the guard's doing."""
    code = "import sys, weasyprint; sys.stdout.buffer.write(weasyprint.HTML(string=sys.stdin.read()).write_pdf())"
    unguarded = subprocess.run(
        [sys.executable, "-c", code],
        input=asking_for(canary.as_uri())[0].encode(),
        capture_output=True,
        check=True,
    )
    assert CANARY in whole_text(unguarded.stdout)


def test_a_paper_that_asks_for_an_address_never_connects() -> None:
    server = socket.create_server(("127.0.0.1", 0))
    connected: list[object] = []
    threading.Thread(target=lambda: connected.append(_accept(server)), daemon=True).start()
    port = server.getsockname()[1]
    try:
        for html in asking_for(f"http://127.0.0.1:{port}/x"):
            with pytest.raises(PaperRefused):
                render_pdf(html, title="x")
    finally:
        server.close()
    assert connected in ([], [None])


def _accept(server: socket.socket) -> object:
    try:
        return server.accept()[1]
    except OSError:
        return None


@pytest.mark.parametrize(
    "url",
    [
        "picture.png",
        "/etc/hostname",
        "//127.0.0.1/x.png",
        "data:image/png;base64,AAAA",
        "asset:../paper.css",
        "asset:",
    ],
)
def test_any_other_address_is_refused(url: str) -> None:
    with pytest.raises(PaperRefused):
        render_pdf(page(f'<img src="{url}" alt="x">'), title="x")


def test_a_base_address_in_the_paper_opens_nothing(canary: Path) -> None:
    html = page("", f'<base href="{canary.parent.as_uri()}/"><link rel="stylesheet" href="canary.css">')
    with pytest.raises(PaperRefused):
        render_pdf(html, title="x")


def test_an_attachment_is_not_taken_along(canary: Path) -> None:
    pdf = render_pdf(page("words", f'<link rel="attachment" href="{canary.as_uri()}">'), title="x")
    assert CANARY.encode() not in pdf
    assert not open_paper(pdf).attachments


SEALED_TRIES = """
import os, socket, subprocess, sys
from pathlib import Path
from quoting.platform.papers import sealed_child
if sys.argv[1] == "sealed":
    sealed_child.seal(Path.cwd())
def outcome(action):
    try:
        action()
    except PermissionError:
        return "refused"
    except OSError:
        return "tried"
    return "done"
print(outcome(lambda: open(sys.argv[2])),
      outcome(lambda: open(os.path.dirname(sys.argv[2]) + "/new", "w")),
      outcome(lambda: socket.create_connection(("127.0.0.1", 9), 1)),
      outcome(lambda: subprocess.run(["true"])),
      outcome(lambda: open("own", "w")))
"""


@pytest.mark.parametrize(
    ("state", "outcomes"),
    [("sealed", "refused refused refused refused done"), ("open", "done done tried done done")],
)
def test_the_seal_closes_files_network_and_processes(
    canary: Path, tmp_path_factory: pytest.TempPathFactory, state: str, outcomes: str
) -> None:
    process = subprocess.run(
        [sys.executable, "-c", SEALED_TRIES, state, str(canary)],
        cwd=tmp_path_factory.mktemp("own"),
        env={"PYTHONPATH": str(PROJECT), "PATH": "/usr/bin:/bin"},
        capture_output=True,
        text=True,
        check=True,
    )
    assert process.stdout.strip() == outcomes


def test_the_renderer_inherits_no_secret(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("DATABASE_URL", "postgres://user:secret@db/x")
    monkeypatch.setenv("CURVEWRIGHT_SECRET_KEY", "secret")
    assert "secret" not in repr(_bare_environment(tmp_path))


def test_an_endless_render_is_stopped_and_nothing_is_left(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    before = own_children()
    with pytest.raises(PaperTimeOut, match="not finished within 1 seconds"):
        render_pdf(LONG_TABLE, title="x", limits=RenderLimits(wall_seconds=1.0))
    assert list(tmp_path.iterdir()) == []
    assert own_children() == before


@pytest.mark.parametrize("memory_mb", [120, 145, 160, 190])
def test_a_render_that_eats_memory_is_stopped(memory_mb: int) -> None:
    with pytest.raises(PaperOutOfMemory, match="memory"):
        render_pdf(LONG_TABLE, title="x", limits=RenderLimits(memory_mb=memory_mb))


def test_the_memory_limit_leaves_room_for_an_ordinary_paper() -> None:
    assert render_pdf(page("<p>one line</p>"), title="x", limits=RenderLimits(memory_mb=200))


def test_a_fault_during_the_render_leaves_no_process_behind() -> None:
    before = own_children()
    with failpoints.ordered(during_render="raise"), pytest.raises(failpoints.FailpointError):
        render_pdf(page("words"), title="x")
    assert own_children() == before


def test_the_next_paper_works_after_a_failed_one() -> None:
    with pytest.raises(PaperError):
        render_pdf(page('<img src="x.png" alt="x">'), title="x")
    assert render_pdf(page("words"), title="x").startswith(b"%PDF-")


@pytest.mark.parametrize("html", ["", "  \n", "a\x00b", "\ud800"])
def test_text_that_cannot_be_a_paper_is_refused_in_a_sentence(html: str) -> None:
    with pytest.raises(PaperError, match=r"^The paper .*\.$"):
        render_pdf(html, title="x")


def test_a_paper_without_a_title_is_refused() -> None:
    with pytest.raises(PaperError, match="no title"):
        render_pdf(page("words"), title=" ")


def test_an_oversize_paper_is_refused_before_rendering() -> None:
    with pytest.raises(PaperTooLong, match="before rendering"):
        render_pdf(page("x" * 2000), title="x", limits=RenderLimits(html_bytes=1000))


def test_an_oversize_pdf_is_refused_after_rendering() -> None:
    with pytest.raises(PaperTooLong, match="finished paper"):
        render_pdf(page("words"), title="x", limits=RenderLimits(pdf_bytes=200))


@pytest.mark.parametrize("name", [field.name for field in fields(RenderLimits)])
@pytest.mark.parametrize("value", [0, -1, float("nan"), float("inf"), True])
def test_a_limit_that_limits_nothing_is_refused(name: str, value: float) -> None:
    with pytest.raises(ValueError, match=name):
        RenderLimits(**{name: value})


def test_the_file_says_its_title_and_firm_and_nothing_of_the_machine() -> None:
    html = page("words", '<meta name="generator" content="inner name"><meta name="author" content="someone">')
    pdf = render_pdf(html, title="Quotation Q-1", author="Penmarrow Interiors", language="en")
    about = open_paper(pdf).metadata
    assert about is not None
    assert (about.title, about.author, about.creator) == ("Quotation Q-1", "Penmarrow Interiors", None)
    assert str(PROJECT).encode() not in pdf
    assert b"/tmp/" not in pdf


def test_a_broken_drawing_is_not_passed_over_in_silence() -> None:
    drawing = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9">'
        '<title>x</title><rect width="a" height="b" transform="rotate(x)"/></svg>'
    )
    with pytest.raises(PaperError, match="cannot be rendered"):
        render_pdf(page(drawing), title="x")


def test_papers_need_no_font_of_the_machine(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, quote_bytes: bytes
) -> None:
    from quoting.platform.papers.typeset import paper_pdf
    from tests.support.paper_samples import dental_quote

    empty = tmp_path / "fonts.conf"
    empty.write_text(
        f'<?xml version="1.0"?><fontconfig><dir>{tmp_path}</dir><cachedir>{tmp_path}</cachedir></fontconfig>'
    )
    monkeypatch.setenv("FONTCONFIG_FILE", str(empty))
    assert whole_text(paper_pdf(dental_quote())) == whole_text(quote_bytes)
