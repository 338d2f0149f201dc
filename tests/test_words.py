"""Plain words on every page, paper and mail, and in every sentence of the services and cores."""

import re

import pytest

from tests.support.wording import Said, buttons, labels, said, sentences

# What a foreman would not say, and what to say instead.
FORBIDDEN = {
    r"\banew\b": "again",
    r"\ball the same\b": "anyway",
    r"\bmeanwhile\b": "since",
    r"\bwhoever\b": "the person who",
    r"\banother look\b": "what needs fixing",
    r"\b(?:is|are|was|were|been|be|each) told\b|\btold (?:by|on|to)\b": "who reads it, or what is shown",
    r"\bput on (?:it|an? order)\b": "order now",
    r"\bthr(?:ow|own|ew)\b.*\baway\b|\btak(?:e|es|en|ing) (?:\w+ )?away\b": "delete",
    r"\btak(?:e|es|en|ing) (?:it|them|that|a line|the line) off\b": "remove",
    r"\b(?:take|takes|taken|taking|took) (?:\w+ ){0,4}back\b": "undo, void, cancel or reverse",
    r"\b(?:is|are|be|been|was|not|may be) had\b|\bhad as\b": "comes, is bought, is available",
    r"\b(?:job|jobs|item|items|order|line) wants?\b|\bwanted\b": "needs",
    r"\bstands? (?:here|there|for it|aside|in for|so|below|above|until|before|twice|beside)\b": "is, is used, lasts",
    r"\bstands? (?:on|in) (?:the|this|other|every|page|order)\b": "is on",
    r"\b(?:what|why \w+) (?:became|came) of\b": "name the thing: the answer, the receipt, the state",
    r"\blies? (?:before|after|from|between)\b": "is before, must be from",
    r"\bnobody (?:has |need )?(?:said|says|stated|knows?)\b": "is not entered, is not known",
    r"(?<![Tt]here )\b(?:is|are) no (?!longer\b|more\b|finer\b|greater\b)\w": "is not a",
    r"\b[Tt]wice it\b|\bof theirs\b|\bby itself\b": "say what happens",
    r"\bfingerprint\b|\bseed\b": "no mechanism by name",
}
LONGEST_SENTENCE, LONGEST_LABEL, LONGEST_BUTTON = 25, 30, 4
# A key of a row: nobody reads it.
UNREAD = ("jobs/bills/services/voiding.py",)


def breaches(texts, *, is_wrong):
    return [f"{text.place}: {text.words}" for text in texts if is_wrong(text) and not text.place.startswith(UNREAD)]


@pytest.mark.parametrize("phrase", FORBIDDEN)
def test_no_page_paper_or_mail_says_it_otherwise_than_a_foreman_would(phrase):
    hits = breaches(said(), is_wrong=lambda text: re.search(phrase, text.words, re.IGNORECASE))
    assert hits == [], f"Say instead: {FORBIDDEN[phrase]}"


def test_every_sentence_is_of_at_most_twenty_five_words():
    spoken = [Said(text.place, sentence) for text in said() for sentence in sentences(text.words)]
    assert breaches(spoken, is_wrong=lambda text: len(text.words.split()) > LONGEST_SENTENCE) == []


def test_every_label_of_a_field_is_of_at_most_thirty_characters():
    assert breaches(labels(), is_wrong=lambda text: len(text.words) > LONGEST_LABEL) == []


def test_every_button_is_of_at_most_four_words():
    assert breaches(buttons(), is_wrong=lambda text: len(text.words.split()) > LONGEST_BUTTON) == []
