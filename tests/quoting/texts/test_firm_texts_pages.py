"""The firm's standing sentences and notices on the screen, and on a job's quote."""

from datetime import date

import pytest
from django.urls import reverse

from quoting.core.quotes.firm_texts import NoticeChoice
from quoting.job_files.services.job_files import work_up_job
from quoting.platform import clock
from quoting.pricing.services.pricing import pricing_document, pricing_of, save_pricing
from quoting.texts.models import NoticePack, StandardText
from quoting.texts.services.firm_texts import firm_texts_of, set_notice, set_notice_place, set_standard_text
from tests.support.desk import opened
from tests.support.worked import NOW, TODAY, small_job

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
SENTENCE = {"block": "warranty", "text": "Twelve months.", "starts_on": "2026-01-01"}
NOTICE = {
    "place": "Sallow Reach",
    "language": "en",
    "version": "2026-1",
    "title": "Notice",
    "text": "One.\n\nTwo.",
    "starts_on": "2026-01-01",
}


@pytest.fixture
def page(client, make_person):
    client.force_login(make_person("estimator"))
    with clock.use(clock.FrozenClock(NOW)):
        yield client


def quote_of(job):
    return work_up_job(job, TODAY).quote


def test_a_sentence_entered_on_the_page_stands_on_every_quote_from_its_day(page):
    page.post(reverse("standard_text_add"), SENTENCE)
    assert "Twelve months." in page.get(reverse("firm_texts")).content.decode()
    assert quote_of(small_job()).texts.warranty == ("Twelve months.",)
    assert firm_texts_of().in_force(date(2025, 12, 31)) == ()


def test_a_new_wording_takes_its_place_from_its_day_on_and_an_ended_one_is_gone(page):
    row = set_standard_text(SENTENCE)
    url = reverse("standard_text", args=[row.key])
    page.post(url, {"text": "Two years.", "starts_on": "2026-11-20"} | opened(page, url))
    assert quote_of(small_job()).texts.warranty == ("Two years.",)
    page.post(reverse("standard_text_end", args=[row.key]))
    assert firm_texts_of().in_force(date(2026, 11, 26)) == ()
    assert StandardText.objects.count() == 2


def test_a_sentence_without_a_day_is_refused_by_name_and_nothing_is_kept(page):
    answer = page.post(reverse("standard_text_add"), {"block": "terms", "text": "Paid in ten days."})
    assert answer.status_code == 422
    assert "In force from" in answer.content.decode()
    assert not StandardText.objects.exists()


def test_a_job_leaves_a_standing_sentence_out_and_adds_its_own(page):
    row, job = set_standard_text(SENTENCE), small_job()
    document = pricing_document(pricing_of(job), TODAY) | {"left_out": [row.key], "warranty": ["As the lease says."]}
    save_pricing(job, document, seen_version=None, on_day=TODAY)
    assert quote_of(job).texts.warranty == ("As the lease says.",)
    shown = page.get(reverse("quote", args=[job.pk]), {"step": "terms"}).content.decode()
    assert f'value="{row.key}"' in shown and "As the lease says." in shown
    assert pricing_document(pricing_of(job), TODAY)["left_out"] == [row.key]


def test_a_place_that_requires_a_notice_has_a_named_gap_until_one_is_in_force(page):
    page.post(reverse("notice_place_set"), {"name": "Sallow Reach", "requires_notice": "1"})
    job = small_job()
    document = pricing_document(pricing_of(job), TODAY) | {"notice": {"place": "Sallow Reach", "language": "en"}}
    save_pricing(job, document, seen_version=None, on_day=TODAY)
    [gap] = [entry for entry in quote_of(job).blocking if entry.key == "pricing/notice"]
    assert "Sallow Reach" in gap.sentence and "enter it" in gap.sentence
    page.post(reverse("notice_add"), NOTICE)
    assert quote_of(job).notice.version == "2026-1"
    assert "pricing/notice" not in [finding.key for finding in quote_of(job).findings]


def test_a_version_named_twice_and_a_place_with_notices_are_refused():
    set_notice(NOTICE)
    with pytest.raises(Exception, match="taken by another wording"):
        set_notice(NOTICE | {"starts_on": "2026-06-01"})
    assert NoticePack.objects.count() == 1
    place = set_notice_place({"name": "Sallow Reach", "requires_notice": True})
    assert firm_texts_of().notice_on(NoticeChoice("Sallow Reach", "en"), TODAY).paragraphs == ("One.", "Two.")
    assert place.requires_notice
