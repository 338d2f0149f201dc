"""The inside of the seal: the only module that imports WeasyPrint. Reads a request, writes a PDF, ends."""

import json
import logging
import math
import os
import resource
import signal
import sys
from base64 import b64decode
from collections.abc import Mapping
from pathlib import Path
from typing import Any, NoReturn

import weasyprint
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

from quoting.platform.papers.assets import load_assets, media_type
from quoting.platform.papers.filling import best_filled
from quoting.platform.papers.outcomes import BAD_INPUT, OUT_OF_MEMORY, REFUSED_URL, TOO_LONG, WRONG_HTML

SCHEME = "asset:"
# A relative address joins onto this and so reaches the fetcher, where it is refused by name.
NOWHERE = "asset:"
MEGABYTE = 1024 * 1024


def end(code: int, reason: str = "") -> NoReturn:
    sys.stderr.write(reason.replace("\n", " ") + "\n")
    sys.stderr.flush()
    # No clean-up runs: after a memory error there may be no room for it, and the parent drops the folder.
    os._exit(code)


def set_limits(request: Mapping[str, Any]) -> None:
    memory = int(request["memory_mb"]) * MEGABYTE
    seconds = float(request["wall_seconds"])
    resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
    resource.setrlimit(resource.RLIMIT_CPU, (math.ceil(seconds) + 1, math.ceil(seconds) + 2))
    resource.setrlimit(resource.RLIMIT_FSIZE, (16 * MEGABYTE, 16 * MEGABYTE))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    resource.setrlimit(resource.RLIMIT_NOFILE, (128, 128))
    # The parent may be gone (kill -9): the default action of SIGALRM ends this process even inside C code.
    signal.signal(signal.SIGALRM, signal.SIG_DFL)
    signal.setitimer(signal.ITIMER_REAL, seconds + 1.0)


def seal(folder: Path) -> None:
    """From here on this process opens no socket, starts no process and reads no foreign file."""
    readable = tuple(
        os.path.realpath(place) + os.sep for place in {sys.prefix, sys.base_prefix, sys.exec_prefix, folder}
    )
    own = os.path.realpath(folder) + os.sep
    never = (
        "socket.",
        "subprocess.",
        "os.exec",
        "os.fork",
        "os.posix_spawn",
        "os.spawn",
        "os.system",
        "urllib.",
    )

    def guard(event: str, args: tuple[Any, ...]) -> None:
        if event.startswith(never):
            raise PermissionError(f"{event} is not allowed while a paper is rendered")
        if event == "open" and isinstance(args[0], (str, bytes)):
            path = os.path.realpath(os.fsdecode(args[0]))
            writes = bool(args[2] & (os.O_WRONLY | os.O_RDWR | os.O_CREAT))
            if not path.startswith(own if writes else readable):
                raise PermissionError(f"{path} is not open to a paper")

    sys.addaudithook(guard)


class AssetsOnly(URLFetcher):  # type: ignore[misc]
    def __init__(self, assets: Mapping[str, bytes]) -> None:
        super().__init__(allowed_protocols=(), allow_redirects=False)
        self.assets = assets

    def fetch(self, url: str, headers: object = None) -> Any:
        name = url.removeprefix(SCHEME)
        if not url.startswith(SCHEME) or name not in self.assets:
            raise FatalURLFetchingError(url[:200])
        return URLFetcherResponse(url, self.assets[name], {"Content-Type": media_type(name)})


def render(request: Mapping[str, Any]) -> bytes:
    images = {name: b64decode(data) for name, data in request.get("images", {}).items()}
    # Our own style sheets and fonts come last: no picture can stand in for one of them.
    assets = {**images, **load_assets()}

    complaints = _collect_complaints()
    seal(Path.cwd())
    try:
        fonts = FontConfiguration()

        def layout(style: str) -> Any:
            # Within the paper, after its own sheets: only there does a style of ours come before theirs.
            text = request["html"].replace("</head>", f"<style>{style}</style></head>", 1)
            html = weasyprint.HTML(string=text, base_url=NOWHERE, url_fetcher=AssetsOnly(assets))
            return html.render(font_config=fonts, pdf_variant="pdf/ua-1")

        document = best_filled(layout, request.get("fits", []), float(request["wall_seconds"]) / 4)
        # What the file says of itself is stated here, never taken from the text of the paper.
        document.metadata = type(document.metadata)(
            title=request["title"],
            authors=[request["author"]] if request["author"] else [],
            lang=request["language"],
        )
        pdf: bytes = document.write_pdf(pdf_variant="pdf/ua-1")
    except FatalURLFetchingError as error:
        end(REFUSED_URL, str(error))
    if complaints:
        end(WRONG_HTML, complaints[0])
    return pdf


def _collect_complaints() -> list[str]:
    """What the renderer only logs (a drawing it cannot draw, a font it cannot load) must not pass unseen."""
    complaints: list[str] = []

    class Collector(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            text = record.getMessage()
            if record.levelno >= logging.ERROR or "cannot be loaded" in text:
                complaints.append(text)

    logger = logging.getLogger("weasyprint")
    logger.handlers[:] = [Collector(level=logging.WARNING)]
    logger.propagate = False
    return complaints


def main() -> None:
    try:
        request = json.loads(sys.stdin.buffer.read())
        set_limits(request)
    except (ValueError, KeyError, TypeError) as error:
        end(BAD_INPUT, f"the request to the renderer is not readable ({type(error).__name__}).")
    try:
        pdf = render(request)
    except (MemoryError, SystemError):
        # Short of memory, C code may return nothing at all, which Python reports as a SystemError.
        # There may be no room left to say anything: the exit code says it.
        os._exit(OUT_OF_MEMORY)
    except Exception as error:
        end(WRONG_HTML, f"{type(error).__name__}: {error}")
    if len(pdf) > request["pdf_bytes"]:
        end(TOO_LONG, f"{len(pdf) / MEGABYTE:.1f} MB")
    sys.stdout.buffer.write(pdf)
    sys.stdout.buffer.flush()
    os._exit(0)


if __name__ == "__main__":
    main()
