"""The main job's costs, each against its bare thing: geometry, an empty page, a bare render of the same HTML."""

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from tests.bench import Bench

DAY = date(2026, 11, 25)


def job_benches() -> Iterator[Bench]:
    yield from _reading_benches()
    yield from _takeoff_benches()
    yield from _page_benches()
    yield from _paper_benches()


def _reading_benches() -> Iterator[Bench]:
    from catalog.core.ground.document_reader import parse_document
    from quoting.core.quotes.job_file import read_job_file, write_job_file
    from tests.documents import job_file

    job = job_file("larkmoor-dental")
    walls = tuple(replace(job.job.walls[0], key=f"wall-{n}", name=f"Wall {n}") for n in range(20))
    file = replace(job, job=replace(job.job, walls=walls), pricing=None)
    text = json.dumps(write_job_file(file))
    bare = "the JSON of a job of 20 walls"
    yield Bench(bare, lambda: parse_document(text))
    document = parse_document(text)
    yield Bench("a job of 20 walls, read", lambda: read_job_file(document), against=bare)


def _takeoff_benches() -> Iterator[Bench]:
    from jobs.core.measure.curve import curve_of
    from jobs.core.takeoff.takeoff import take_off
    from jobs.core.takeoff.wall_work_up import survey_of, work_up_wall
    from tests.documents import job_file

    read = job_file("larkmoor-dental")
    wall, book = read.job.walls[0], read.book
    plain = replace(wall, left=replace(wall.left, layers=()), right=replace(wall.right, layers=()))

    def take_off_one(spec: object, rounds: int | None) -> None:
        take_off([work_up_wall(spec, book, DAY, board_rounds=rounds)], book, DAY)  # type: ignore[arg-type]

    bare = "geometry of one wall"
    yield Bench(bare, lambda: curve_of(survey_of(wall, book.materials)))
    yield Bench("takeoff, no board to plan", lambda: take_off_one(plain, None), against=bare)
    yield Bench("takeoff, quick board plan", lambda: take_off_one(wall, 0), against=bare)
    yield Bench("takeoff, full board plan", lambda: take_off_one(wall, None), against=bare)
    twenty = [replace(plain, key=f"wall-{n}") for n in range(20)]

    def take_off_twenty() -> None:
        take_off([work_up_wall(spec, book, DAY) for spec in twenty], book, DAY)

    yield Bench("a job of 20 walls, no boards to plan", take_off_twenty, against=bare)
    worked = [work_up_wall(replace(wall, key=f"wall-{n}"), book, DAY) for n in range(20)]
    yield Bench("20 walls merged into purchases", lambda: take_off(worked, book, DAY), against=bare)


def _page_benches() -> Iterator[Bench]:
    from django.test import Client
    from django.urls import reverse

    from jobs.jobs.services.jobs import job_of
    from quoting.platform.people.services.people import add_person

    estimator, _ = add_person("bench-sheets", "Bench", "estimator")
    client = Client()
    client.force_login(estimator)
    job = job_of("J-0003")  # stored by the benches of the walls' previews
    sheet = reverse("wall", args=[job.pk, "lobby-wall"])
    assert client.get(sheet).status_code == 200
    yield Bench("an empty page of this stack", lambda: client.get("/account/"))
    yield Bench("a wall's page, opened again", lambda: client.get(sheet), against="an empty page of this stack")
    today = reverse("today")
    yield Bench("today, opened again", lambda: client.get(today), against="an empty page of this stack")


def _paper_benches() -> Iterator[Bench]:
    from weasyprint import HTML
    from weasyprint.text.fonts import FontConfiguration

    from quoting.core.quotes.work_up import work_up
    from quoting.platform.papers.assets import load_assets
    from quoting.platform.papers.sealed import render_pdf
    from quoting.platform.papers.sealed_child import AssetsOnly
    from quoting.platform.papers.typeset import paper_html
    from quoting.quotes.services.quote_paper import QuoteHead, quote_paper
    from tests.documents import job_file

    benches = work_up(job_file("larkmoor-dental"), DAY)
    paper = quote_paper(benches, QuoteHead("Q-1", "1", "Bench"))
    html, assets = paper_html(paper), load_assets()

    def bare_render() -> None:
        made = HTML(string=html, base_url="asset:", url_fetcher=AssetsOnly(assets))
        assert made.write_pdf(font_config=FontConfiguration(), pdf_variant="pdf/ua-1")

    yield Bench("a bare render of the quote's HTML", bare_render)
    yield Bench(
        "the same, sealed in its own process",
        lambda: render_pdf(html, title=paper.title),
        against="a bare render of the quote's HTML",
    )
    yield Bench("figures and HTML of the quote", lambda: paper_html(quote_paper(benches, QuoteHead("Q-1", "1", "B"))))
