"""A large quotation beside a bare render of its HTML, and many quotations through one and through two at a time."""

import os
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor

# CURVEWRIGHT_BENCH_QUOTES=50 for the whole measure.
QUOTES = int(os.environ.get("CURVEWRIGHT_BENCH_QUOTES", "4"))


def paper_lines() -> Iterator[str]:
    from weasyprint import HTML
    from weasyprint.text.fonts import FontConfiguration

    from quoting.platform.papers.assets import load_assets
    from quoting.platform.papers.sealed import render_pdf
    from quoting.platform.papers.sealed_child import AssetsOnly
    from quoting.platform.papers.typeset import paper_html
    from tests.support.paper_samples import dental_quote
    from tests.support.paper_stress import stress_paper

    assets, large, small = load_assets(), paper_html(stress_paper()), paper_html(dental_quote())

    def bare() -> None:
        made = HTML(string=large, base_url="asset:", url_fetcher=AssetsOnly(assets))
        assert made.write_pdf(font_config=FontConfiguration(), pdf_variant="pdf/ua-1")

    def many(at_a_time: int) -> None:
        # Each render is a process of its own, as under a worker: the threads only wait for them.
        with ThreadPoolExecutor(at_a_time) as pool:
            assert all(pool.map(lambda number: render_pdf(small, title=f"Quote {number}"), range(QUOTES)))

    bare()
    yield _line("8 walls, 120 lines: bare render", bare)
    yield _line("the same, sealed in its own process", lambda: render_pdf(large, title="Quote"))
    yield _line(f"{QUOTES} quotes, one at a time", lambda: many(1))
    yield _line(f"{QUOTES} quotes, two at a time", lambda: many(2))


def _line(name: str, act: Callable[[], object]) -> str:
    began = time.perf_counter()
    act()
    return f"{name:<38}{(time.perf_counter() - began) * 1000:>10.2f} ms"
