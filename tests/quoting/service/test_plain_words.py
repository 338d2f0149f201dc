"""What people read says nothing as programs keep it: no ISO days, no keys, no row numbers, no reprs.

Every page of the demonstration that a link leads to, as the owner and as the lead carpenter, and every paper it makes.
"""

import html
import os
import re
from collections import Counter
from collections.abc import Iterator
from typing import Any

import pytest
from django.test import Client
from django.urls import Resolver404, resolve

from jobs.core.results.result_documents import schedule_document, takeoff_document
from jobs.dates.services.order_dates_paper import order_dates_paper
from jobs.deliveries.services.claim_letters import claim_letter
from jobs.deliveries.services.claims import to_claim
from jobs.jobs.models import Job
from jobs.orders.models import Order
from jobs.orders.services.sheets import order_sheet
from jobs.site.services.sheet import site_paper
from quoting.core.quotes.quote_document import quote_document
from quoting.core.quotes.work_up import work_up
from quoting.job_files.services.job_files import work_up_job
from quoting.platform import clock
from quoting.platform.firm_day import moment_at_the_firm
from quoting.platform.papers.typeset import PrintedPaper, paper_html
from quoting.platform.people.models import Person
from quoting.platform.people.signatures import Signature
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.snapshots import frozen_paper
from quoting.service.demo.demo import DEMO_DAY
from tests.documents import JOBS, job_file
from tests.support.demonstration import load_demonstration

pytestmark = pytest.mark.django_db
LEAKS = {
    "an ISO day": re.compile(r"\b[12][0-9]{3}-[0-9]{2}-[0-9]{2}\b"),
    "None": re.compile(r"\bNone\b(?! (?:of|entered|yet|are|can)\b)"),
    "a place in a document": re.compile(r"\b\w+\[\d+\]"),
    "a key of a check": re.compile(r"\b[\w-]+/(?:left|right|trim-\d|track|framing|piece-\d|layer-\d)[\w/-]*"),
    "a row number and a code": re.compile(r"\b\d+/[A-Z][A-Z0-9]+-[A-Z0-9-]+"),
    "a repr": re.compile(
        r"<\w+(?:\.\w+)* (?:object|instance)|\b(?:Decimal|datetime|UUID)\(|<\w+: [^>]+>|\b(?:True|False)\b"
    ),
    "a length no tape reads": re.compile(r"\b\d+\.(?:\d{3,} ?mm|\d{5,} ?in)\b"),
    "marks of markup": re.compile(r"\*\*?\w[^*\n]{0,60}\*\*?"),
}
A_FEW = 3 if os.environ.get("CURVEWRIGHT_FAULT_ROUNDS") else 1
NOT_READ = ("/static/", "/api", "/log-out", "/health")


def leaks_in(text: str) -> list[str]:
    return [f"{name}: {match[0]!r} in {text[max(0, match.start() - 40) : match.end() + 30]!r}"
            for name, pattern in LEAKS.items() for match in pattern.finditer(text)][:4]  # fmt: skip


def words_of(page: str) -> str:
    """What is seen of it, and what is read out to those who do not see it."""
    page = re.sub(r"(?s)<(script|style|textarea)\b.*?</\1>", " ", page)
    spoken = " ".join(re.findall(r'(?:aria-label|title|alt|placeholder)="([^"]*)"', page))
    return html.unescape(" ".join((re.sub(r"(?s)<[^>]*>", " ", page) + " " + spoken).split()))


def pages_of(client: Client, start: str = "/") -> Iterator[tuple[str, str]]:
    """A few of each kind, found by following links."""
    seen, waiting, kinds = {start}, [start], Counter[str]()
    while waiting:
        path = waiting.pop(0)
        response = client.get(path, follow=True)
        if response.status_code != 200 or "text/html" not in response.get("Content-Type", ""):
            continue
        page = response.content.decode()
        yield path, page
        for link in re.findall(r'href="(/[^"#]*)', page):
            link = html.unescape(link)
            try:
                kind = resolve(link.partition("?")[0]).view_name
            except Resolver404:
                continue
            if link not in seen and not link.startswith(NOT_READ) and kinds[kind] < A_FEW:
                seen.add(link)
                kinds[kind] += 1
                waiting.append(link)


@pytest.fixture
def demo(settings, tmp_path, frozen_clock):
    return load_demonstration(settings, tmp_path, frozen_clock)


@pytest.mark.faults
def test_no_page_says_a_thing_as_programs_keep_it(demo):
    for name in ("demo-owner", "demo-lead"):
        client = Client()
        client.force_login(Person.objects.get(login_name=name))
        read = dict(pages_of(client))
        assert len(read) > 12
        result = {path: result for path, page in read.items() if (result := leaks_in(words_of(page)))}
        assert result == {}, name


def papers_of(job: Job, by: str) -> Iterator[PrintedPaper]:
    papers = work_up_job(job, DEMO_DAY)
    yield frozen_paper(QuoteRevision.objects.get(quote__job=job))
    yield order_dates_paper(papers, prepared_by=by)
    yield site_paper(papers, prepared_by=by)
    for order in Order.objects.all():
        yield order_sheet(order, by, moment_at_the_firm(clock.now()))
    for row in to_claim():
        yield claim_letter(row, "make_again", Signature(by, DEMO_DAY))


def test_no_paper_says_a_thing_as_programs_keep_it(demo):
    read = {
        f"{number} {paper.title}": words_of(paper_html(paper)) for number, paper in enumerate(papers_of(demo, "Ines"))
    }
    assert len(read) == 3 + Order.objects.count() + to_claim().count()
    assert {title: result for title, words in read.items() if (result := leaks_in(words))} == {}


def sentences_in(value: Any, name: str = "") -> Iterator[str]:
    if isinstance(value, dict):
        for inner, entry in value.items():
            yield from sentences_in(entry, inner)
    elif isinstance(value, list):
        for entry in value:
            yield from sentences_in(entry, name)
    elif isinstance(value, str) and name in ("sentence", "words", "rule", "source", "note", "notes", "cautions", "why"):
        yield value


@pytest.mark.parametrize("name", JOBS)
def test_no_sentence_of_the_core_says_a_thing_as_programs_keep_it(db, name):
    """As the API and the command answer with them; days and keys that are data stand in entries of their own."""
    result = work_up(job_file(name), DEMO_DAY)
    sentences = [*sentences_in(takeoff_document(result)), *sentences_in(schedule_document(result))]
    sentences += [*sentences_in(quote_document(result)), *(finding.sentence for finding in result.findings)]
    assert len(sentences) > 50
    assert {sentence: results for sentence in sentences if (results := leaks_in(sentence))} == {}


@pytest.mark.parametrize(
    "leak",
    ["ordered on 2026-12-10", "None in hand", "openings[0].width", "bar-half-wall/left/layer-1/piece-1",
     "7994.776882 mm", "11/BASE-514-FLEX", "<Order: O-0001>", "Decimal('3.50')", "by *somebody*"],
)  # fmt: skip
def test_the_control_each_kind_of_leak_is_found(leak):
    assert leaks_in(f"It says {leak} here.")
