"""Standing sentences and notices by the day: which wording holds, and what a place asks for."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import DocumentError, Reader
from quoting.core.quotes.firm_texts import (
    FirmTexts,
    NoticeChoice,
    NoticePack,
    QuoteTexts,
    StandardText,
    notice_of_quote,
    texts_of_quote,
)
from tests.documents import document

FIRST = date(2026, 1, 1)
DAYS = st.dates(date(2025, 1, 1), date(2028, 1, 1))


@given(st.lists(DAYS, min_size=1, max_size=6, unique=True), DAYS)
def test_on_a_day_a_key_has_the_latest_wording_that_has_begun_and_no_other(starts, day):
    texts = FirmTexts(tuple(StandardText("a", "terms", f"From {start}.", start) for start in starts))
    begun = [start for start in starts if start <= day]
    assert [text.starts_on for text in texts.in_force(day)] == ([max(begun)] if begun else [])


def test_a_wording_that_has_ended_is_not_replaced_by_the_one_before_it():
    old = StandardText("a", "terms", "Old.", FIRST)
    new = StandardText("a", "terms", "New.", FIRST + timedelta(30), FIRST + timedelta(60))
    assert FirmTexts((old, new)).in_force(FIRST + timedelta(61)) == ()


def test_a_sentence_left_out_is_gone_and_the_job_s_own_come_last():
    firm = FirmTexts((StandardText("a", "terms", "A.", FIRST), StandardText("b", "terms", "B.", FIRST)))
    assert texts_of_quote(firm, QuoteTexts(terms=("C.",)), ["a"], FIRST).terms == ("B.", "C.")


def test_a_sentence_said_in_two_blocks_is_printed_once_and_among_the_cautions_if_it_is_one():
    firm = FirmTexts((StandardText("dry", "access", "The room is dry.", FIRST),))
    own = QuoteTexts(
        assumptions=("the room  is dry", "It is empty"), terms=("Mind the dust.",), cautions=("Mind the dust",)
    )
    texts = texts_of_quote(firm, own, (), FIRST)
    assert (texts.access, texts.assumptions) == (("The room is dry.",), ("It is empty",))
    assert (texts.cautions, texts.terms) == (("Mind the dust",), ())


def test_the_version_in_force_on_the_day_of_issue_is_the_one_carried():
    packs = tuple(
        NoticePack("Sallow Reach", "en", f"v{n}", "Notice", "Text.", FIRST + timedelta(100 * n)) for n in range(3)
    )
    firm, choice = FirmTexts(notices=packs), NoticeChoice("Sallow Reach", "en")
    assert notice_of_quote(firm, choice, FIRST + timedelta(199))[0].version == "v1"
    assert notice_of_quote(firm, choice, FIRST + timedelta(200))[0].version == "v2"
    assert notice_of_quote(firm, NoticeChoice("Sallow Reach", "fr"), FIRST)[0] is None


@pytest.mark.parametrize(("required", "weight"), [(("Sallow Reach",), "gap"), ((), "caution")])
def test_a_missing_notice_stops_the_quote_only_where_the_firm_says_so(required, weight):
    firm = FirmTexts(notice_required_at=required)
    _, [finding] = notice_of_quote(firm, NoticeChoice("Sallow Reach", "en"), FIRST)
    assert finding.weight == weight


def test_texts_are_written_and_read_back_the_same():
    texts = read(FirmTexts, Reader(document("texts/starter.json")))
    assert read(FirmTexts, Reader(write(texts))) == texts


@pytest.mark.parametrize(
    ("entry", "message"),
    [
        ({"key": "A b"}, "is not a key"),
        ({"ends_on": "2025-12-31"}, "before it starts"),
        ({"block": "prices"}, "is not one of"),
        ({"text": " "}, "must not be empty"),
    ],
)
def test_a_wrong_entry_is_named(entry, message):
    whole = {"key": "a", "block": "terms", "text": "A.", "starts_on": "2026-01-01"} | entry
    with pytest.raises(DocumentError, match=message):
        read(FirmTexts, Reader({"standard": [whole]}))
