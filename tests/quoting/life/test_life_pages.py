"""Jobs, Job, the foot and the API say where a job stands in the same words, from its row."""

import re
from datetime import UTC, datetime, timedelta

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from jobs.jobs.models import Job
from jobs.needs.services import result_rows
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from quoting.client.models import LinkOpening
from quoting.client.pages.gate import OPENINGS
from quoting.life.models import KeptLife, QuoteOutcome
from quoting.life.services.listing import found_jobs
from tests.support.answered import accept, secret_to, with_paper
from tests.support.asking import reasons
from tests.support.desk import as_
from tests.support.worked import TODAY, issued, small_job

__all__ = ["as_"]
pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
NOW = datetime(2026, 11, 25, 15, 0, tzinfo=UTC)


@pytest.fixture
def job(frozen_clock):
    frozen_clock.move_to(NOW)
    OPENINGS.forget()
    result = small_job()
    keep_needs(result.pk, *find_needs(result.pk, TODAY), NOW)
    return result


def page(who, name, *args, **query):
    answer = who.get(reverse(name, args=args), query)
    assert answer.status_code == 200
    return answer.content.decode()


def test_jobs_job_foot_and_api_say_the_same_of_a_job(as_, job):
    secret_to(issued(job), by_hand=True)
    desk = as_("estimator")
    assert "Tern Street Clinic signs" in page(desk, "job_list")
    shown = page(desk, "job", job.pk)
    assert "Tern Street Clinic signs, by" in shown and "<dt>State</dt><dd>Sent</dd>" in shown
    life = desk.get(f"/api/jobs/{job.key}", headers={"accept": "application/json"}).json()["life"]
    assert (life["station"], life["steps"][0]["what"]) == ("sent", "Tern Street Clinic signs")
    assert "<dt>State</dt><dd>Sent</dd>" in page(desk, "job_cautions", job.pk)


def test_a_signature_on_the_clients_page_changes_jobs_job_and_api_at_once(as_, job):
    accept(with_paper(issued(job)))
    desk = as_("office")
    assert "Signed" in page(desk, "job_list", station="signed") and "Signed" in page(desk, "job", job.pk)


def test_jobs_stand_by_the_day_their_next_step_is_due_and_what_ended_last(job):
    later, ended, soon = (small_job(f"J-01{number}") for number in (10, 11, 12))
    for entry, days, end in ((job, None, ""), (later, 9, ""), (ended, 1, "lost"), (soon, 2, "")):
        due = TODAY + timedelta(days=days) if days else None
        KeptLife.objects.filter(job=entry).update(next_by=due, ended=end, turns_on=None)
    numbers = [each.pk for each in found_jobs("", closed=False, today=TODAY)]
    assert numbers == [soon.pk, later.pk, job.pk, ended.pk]


def test_a_row_the_day_has_turned_is_listed_as_it_stands_today(job):
    revision = issued(job)
    secret_to(revision, by_hand=True)
    day = revision.valid_until + timedelta(days=1)
    assert [entry.ended for entry in found_jobs("", closed=False, today=day)] == ["expired"]


def test_jobs_are_filtered_by_client_station_and_words(as_, job):
    desk = as_("office")
    assert job.title in page(desk, "job_list", client=job.client_id, station="priced", q="tern corridor")
    for other in ({"client": "999999"}, {"station": "paid"}, {"q": "nobody"}, {"shown": "closed"}):
        assert f'href="{reverse("job", args=[job.pk])}"' not in page(desk, "job_list", **other)


def test_prices_stand_in_the_list_for_those_who_price_alone(as_, job):
    issued(job)
    # (3,180.00 + 96 x 47.00 + 650.00 + 240.00) / (1 - 0.38) = 8,582.00 / 0.62
    assert "13,841.94" in page(as_("estimator"), "job_list")
    assert not any("13,841.94" in page(as_(role), "job_list") for role in ("office", "lead"))


def test_the_pages_of_jobs_work_nothing_up(as_, job, monkeypatch):
    desk = as_("owner")
    page(desk, "job", job.pk)
    monkeypatch.setattr("jobs.needs.services.schedule_refresh.work_of", None)
    monkeypatch.setattr("jobs.needs.services.stored_jobs.work_of", None)
    assert job.title in page(desk, "job_list") and job.title in page(desk, "job", job.pk)


def test_many_jobs_ask_no_more_of_the_database_than_a_page_of_them(as_, job):
    desk = as_("owner")

    def asked():
        with CaptureQueriesContext(connection) as result:
            page(desk, "job_list")
        return len(result)

    few = asked()
    Job.objects.bulk_create(
        Job(key=f"K-{number}", title="Copy", client=job.client, created_at=NOW) for number in range(40)
    )
    row = KeptLife.objects.get(job=job)
    copies = Job.objects.filter(title="Copy").values_list("pk", flat=True)
    KeptLife.objects.bulk_create(KeptLife(job_id=pk, facts=row.facts, station=row.station) for pk in copies)
    assert asked() <= few


def test_a_job_without_a_wall_leads_to_its_first(as_, job):
    empty = small_job("J-0200", walls=[], pricing=None)
    shown = page(as_("estimator"), "job", empty.pk)
    assert "Measure the first wall" in shown and reverse("wall_add", args=[empty.pk]) in shown


def test_why_a_quotation_is_lost_is_entered_shown_and_taken_back(as_, job):
    issued(job)
    desk = as_("office")
    assert desk.post(reverse("job_outcome", args=[job.pk]), {"kind": "other"}).status_code == 422
    desk.post(reverse("job_outcome", args=[job.pk]), {"kind": "price", "words": "by 900"})
    assert "Lost to price: by 900" in page(desk, "job", job.pk) and "Lost" in page(desk, "job_list")
    assert "by 900" not in page(as_("lead"), "job", job.pk)
    assert "Lost to price" in page(desk, "job_history", job.pk)
    desk.post(reverse("job_outcome_undo", args=[job.pk]))
    assert QuoteOutcome.objects.get().undone_by_name == "the-office"
    assert "Lost to price" not in page(desk, "job", job.pk)


def test_the_api_takes_an_outcome_once_and_takes_it_back(as_, job):
    desk, url = as_("estimator"), f"/api/jobs/{job.key}/outcome"
    texts = {"kind": "put_off", "words": "until spring"}
    answers = [desk.post(url, texts, content_type="application/json") for _ in range(2)]
    assert [answer.status_code for answer in answers] == [201, 200]
    assert desk.get(url).json()["outcome"]["kind"] == "put_off"
    assert desk.post(f"{url}/undo", {}, content_type="application/json").json() == {"outcome": None}
    wrong = desk.post(url, {"kind": "other"}, content_type="application/json")
    assert wrong.status_code == 400 and "words" in reasons(wrong)
    assert as_("lead").get(url).status_code == 403


def test_the_lead_reads_no_reason_money_or_supplier_of_a_life(as_, job):
    accept(with_paper(issued(job)))
    life = as_("lead").get(f"/api/jobs/{job.key}").json()["life"]
    assert {"collect", "settle", "bill", "note"}.isdisjoint(entry["act"] for entry in life["steps"])


def test_whoever_is_on_site_can_open_every_link_of_their_pages(as_, job):
    accept(with_paper(issued(job)))
    lead = as_("lead")
    for shown in (page(lead, "job", job.pk), page(lead, "sites")):
        inside = shown.partition("<main")[2].partition("</main>")[0]
        links = set(re.findall(r'href="(/[^"#?]*)', inside))
        assert {lead.get(link, follow=True).status_code for link in links} == {200}


def opened(secret, client=None):
    return (client or Client()).post(f"/q/{secret}/opened/")


def test_an_opening_is_counted_once_in_ten_minutes_and_without_an_address(job, frozen_clock):
    secret = secret_to(issued(job), by_hand=True)
    assert [opened(secret).status_code for _ in range(2)] == [204, 204]
    assert LinkOpening.objects.count() == 1
    frozen_clock.move_on(minutes=11)
    opened(secret)
    assert KeptLife.objects.get(job=job).to_core().revision.opened == 2
    assert {field.name for field in LinkOpening._meta.fields} == {"id", "link", "opened_at", "opened_on"}


def test_whoever_of_the_firm_looks_is_not_counted_nor_is_a_fetch_of_the_page(as_, job):
    secret = secret_to(issued(job), by_hand=True)
    Client().get(f"/q/{secret}/")
    opened(secret, as_("estimator"))
    assert not LinkOpening.objects.exists()


def test_openings_in_a_row_are_refused_and_take_nothing_from_the_answer(job):
    revision = with_paper(issued(job))
    secret = secret_to(revision, by_hand=True)
    assert [opened(secret).status_code for _ in range(11)][-1] == 429
    answer = Client().post(f"/q/{secret}/answer/", {"answer": "accept", "name": "Ada Client"})
    assert answer.status_code == 302


def test_the_clients_page_says_that_it_is_counted(job):
    shown = Client().get(f"/q/{secret_to(issued(job), by_hand=True)}/").content.decode()
    assert "We see when and how often this page is opened" in shown and "data-opened" in shown


def test_pictures_of_a_wall_are_kept_with_what_was_worked_up(job):
    facts = result_rows.facts_of(find_needs(job.pk, TODAY)[1].done)
    assert set(facts.walls[0].pictures) == {"standing", "standing_narrow", "thumbnail"}
