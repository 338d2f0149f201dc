from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PdfReader

from quoting.month.models import CauseSentence
from quoting.month.papers.month_sheet import MonthPaper
from quoting.month.services.month_papers import (
    MAX_JOBS,
    MAX_LEARNT,
    MAX_STEPS,
    ask_for_month,
    last_paper,
    month_paper,
)
from quoting.platform.papers.paper_documents import read_paper, write_paper
from quoting.platform.papers.parts import Measure
from quoting.platform.papers.typeset import paper_pdf
from tests.quoting.month.test_month import SEPTEMBER, done, hall
from tests.support.desk import as_
from tests.support.months import TODAY
from tests.support.worked import NOW

__all__ = ["as_", "hall"]
pytestmark = pytest.mark.django_db


def test_the_paper_says_what_the_page_says_on_one_page(hall):
    done(hall)
    CauseSentence.objects.create(
        job=hall.job, month=SEPTEMBER, text="Two boards came bad.", entered_at=NOW, entered_by_name="O. Owner"
    )
    paper = month_paper(SEPTEMBER, TODAY)
    pages = PdfReader(BytesIO(paper_pdf(paper))).pages
    words = " ".join(pages[0].extract_text().split())
    assert len(pages) == 1
    assert "September 2026" in words and "Two boards came bad." in words and paper.sentences[0] in words


def test_the_fullest_paper_still_has_one_page(hall):
    done(hall)
    paper = month_paper(SEPTEMBER, TODAY)
    full = replace(
        paper,
        lines=paper.lines * MAX_JOBS,
        more="And 191 jobs more.",
        learnt=("A sentence of the owner. " * 12,) * MAX_LEARNT,
        hours=(Measure("Framing", "12.0 h"),) * MAX_STEPS,
    )
    assert len(PdfReader(BytesIO(paper_pdf(full))).pages) == 1


def test_the_paper_is_stored_as_it_was_asked_for_once(hall):
    first, again = ask_for_month(SEPTEMBER, TODAY, NOW), ask_for_month(SEPTEMBER, TODAY, NOW)
    assert first == again == last_paper(SEPTEMBER)
    paper = month_paper(SEPTEMBER, TODAY)
    assert read_paper(MonthPaper, write_paper(paper)) == paper


def test_the_paper_is_the_owner_s_alone(hall, as_):
    errand = ask_for_month(SEPTEMBER, TODAY, NOW)
    for role, status in (("owner", 200), ("office", 404), ("estimator", 404), ("lead", 403)):
        client = as_(role)
        assert client.get(f"/papers/errands/{errand.pk}/").status_code == status, role
        assert client.post("/month/2026-09/paper/").status_code == (302 if role == "owner" else 403)
