"""Renders HTML to PDF in a child process that has no network, no files and no way back into this one."""

import json
import os
import signal
import subprocess
import sys
import tempfile
from base64 import b64encode
from collections.abc import Mapping, Sequence
from pathlib import Path

from quoting.platform.failpoints import hit
from quoting.platform.papers.errors import (
    PaperError,
    PaperOutOfMemory,
    PaperRefused,
    PaperTimeOut,
    PaperTooLong,
)
from quoting.platform.papers.limits import MEGABYTE, RenderLimits
from quoting.platform.papers.outcomes import BAD_INPUT, OUT_OF_MEMORY, REFUSED_URL, TOO_LONG, WRONG_HTML

PROJECT = Path(__file__).resolve().parents[3]
STANDARD_LIMITS = RenderLimits()


def render_pdf(
    html: str,
    *,
    title: str,
    author: str = "",
    language: str = "en",
    limits: RenderLimits = STANDARD_LIMITS,
    images: Mapping[str, bytes] | None = None,
    fits: Sequence[str] = (),
) -> bytes:
    """images: what the paper shows as asset:NAME beside its own drawings; they go in with the text.

    fits: styles among which the layout that fills its sheets is sought, see `best_filled`.
    """
    request = _request(html, title, author, language, limits, images or {}, fits)
    # The folder is the child's whole world for files; it goes even when the child is killed.
    with tempfile.TemporaryDirectory(prefix="paper-") as folder:
        code, pdf, message = _run_child(request, Path(folder), limits)
    if code == 0 and pdf.startswith(b"%PDF-") and pdf.rstrip().endswith(b"%%EOF"):
        return pdf
    raise _error_for(code, message, title, limits)


def _request(
    html: str,
    title: str,
    author: str,
    language: str,
    limits: RenderLimits,
    images: Mapping[str, bytes],
    fits: Sequence[str],
) -> bytes:
    if not isinstance(html, str) or not html.strip():
        raise PaperError("The paper has no content; there must be an HTML document to render.")
    if not title.strip():
        raise PaperError("The paper has no title; a title is needed so that a reader can announce it.")
    if "\x00" in html:
        raise PaperError("The paper holds a NUL character; take it out of the text it came from.")
    try:
        size = len(html.encode("utf-8"))
    except UnicodeEncodeError as error:
        raise PaperError(
            f"The paper holds a character that is not valid text (position {error.start}); "
            "take it out of the text it came from."
        ) from error
    if size > limits.html_bytes:
        raise PaperTooLong(
            f"The paper is {size / MEGABYTE:.1f} MB before rendering; at most "
            f"{limits.html_bytes / MEGABYTE:.1f} MB can be rendered. Leave out walls or drawings."
        )
    weight = sum(len(data) for data in images.values())
    if weight > limits.image_bytes:
        raise PaperTooLong(
            f"The photos of the paper are {weight / MEGABYTE:.1f} MB; at most {limits.image_bytes / MEGABYTE:.1f} MB "
            "can be set. Take some of them down."
        )
    return json.dumps(
        {
            "html": html,
            "title": title,
            "author": author,
            "language": language,
            "wall_seconds": limits.wall_seconds,
            "memory_mb": limits.memory_mb,
            "pdf_bytes": limits.pdf_bytes,
            "fits": fits,
            "images": {name: b64encode(data).decode("ascii") for name, data in images.items()},
        }
    ).encode()


def _run_child(request: bytes, folder: Path, limits: RenderLimits) -> tuple[int, bytes, str]:
    child = subprocess.Popen(
        [sys.executable, "-m", "quoting.platform.papers.sealed_child"],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        cwd=folder,
        env=_bare_environment(folder),
        start_new_session=True,
    )
    try:
        hit("during_render")
        pdf, message = child.communicate(request, timeout=limits.wall_seconds)
    except subprocess.TimeoutExpired as error:
        raise _time_out(limits) from error
    finally:
        if child.poll() is None:
            os.killpg(child.pid, signal.SIGKILL)
            child.communicate()
    return child.returncode, pdf, message.decode("utf-8", "replace")


def _bare_environment(folder: Path) -> dict[str, str]:
    # Nothing of ours goes in: no database address, no secret key, no proxy.
    texts = {name: os.environ[name] for name in ("FONTCONFIG_FILE", "FONTCONFIG_PATH") if name in os.environ}
    return texts | {
        "PYTHONPATH": str(PROJECT),
        "PYTHONDONTWRITEBYTECODE": "1",
        "PYTHONHASHSEED": "0",
        "HOME": str(folder),
        "XDG_CACHE_HOME": str(folder),
        "TMPDIR": str(folder),
        "PATH": "/usr/bin:/bin",
        "LC_ALL": "C.UTF-8",
    }


def _time_out(limits: RenderLimits) -> PaperTimeOut:
    return PaperTimeOut(
        f"The paper was not finished within {limits.wall_seconds:g} seconds and was stopped. "
        "Try again; if it happens again, leave out walls or drawings."
    )


def _error_for(code: int, message: str, title: str, limits: RenderLimits) -> PaperError:
    reason = _reason(message)
    if code == -signal.SIGALRM or code == -signal.SIGXCPU:
        return _time_out(limits)
    # Python itself may fall over for want of memory and then only names the error.
    if code == OUT_OF_MEMORY or "MemoryError" in message:
        return PaperOutOfMemory(
            f"The paper needed more than {limits.memory_mb} MB of memory and was stopped. Leave out walls or drawings."
        )
    if code == REFUSED_URL:
        return PaperRefused(
            f"The paper asks for {reason!r}, which is not one of its own style sheets or fonts; "
            "papers fetch nothing and read no file."
        )
    if code == TOO_LONG:
        return PaperTooLong(
            f"The finished paper is {reason}; at most {limits.pdf_bytes / MEGABYTE:.1f} MB can be kept. "
            "Leave out walls or drawings."
        )
    if code in (BAD_INPUT, WRONG_HTML):
        return PaperError(f"The paper {title!r} cannot be rendered: {reason}")
    if code < 0:
        return PaperOutOfMemory(
            f"The renderer stopped without a word ({signal.Signals(-code).name}), most likely short of "
            f"memory ({limits.memory_mb} MB allowed). Try again; if it happens again, leave out walls "
            "or drawings."
        )
    return PaperError(f"The paper {title!r} could not be rendered (the renderer ended with code {code}).")


def _reason(message: str) -> str:
    lines = message.strip().splitlines()
    return lines[-1][:300] if lines else ""
