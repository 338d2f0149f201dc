from datetime import date

import pytest

from quoting.quotes.models import CancellationTerm
from quoting.quotes.services.cancellation import set_term
from quoting.quotes.services.certificate import window_sentences
from quoting.quotes.services.snapshots import frozen_paper
from tests.support.answered import accept, with_paper
from tests.support.worked import TODAY, issued, small_job

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
TERM = {"starts_on": "2026-01-01", "days": 10, "counting": "calendar", "source": "our lawyer"}
HOW = "To take it back, send the form at the end of this paper."


def test_the_window_in_force_is_printed_and_stays_as_it_was_printed():
    """Ten calendar days from Wednesday 25 November 2026, by hand: Saturday 5 December."""
    set_term(TERM | {"notice": HOW})
    revision = with_paper(issued(small_job()))
    CancellationTerm.objects.update(days=3, notice="Otherwise.")
    rule, example, how = frozen_paper(revision).taking_back
    assert "within 10 calendar days after the day of acceptance" in rule
    assert "up to and including Sat 5 Dec 2026" in example
    assert how == HOW
    answer = accept(revision)
    assert answer.cancel_until == date(2026, 12, 5)
    assert window_sentences(answer)[1] == HOW


def test_without_words_of_the_firm_notice_is_given_in_writing():
    set_term(TERM)
    message = frozen_paper(issued(small_job())).taking_back[-1]
    assert message.startswith("To cancel, tell Wendrell & Sawtry Interiors in writing")


@pytest.mark.parametrize("other", [{"starts_on": "2026-11-26"}, {"days": 0}])
def test_where_no_window_is_in_force_the_quotation_says_nothing_of_one(other):
    set_term(TERM | other)
    revision = issued(small_job())
    assert (revision.quoted_on, frozen_paper(revision).taking_back) == (TODAY, ())
