"""Quotations that wait for an answer: value, age, last day, who asks next; and what became of the others."""

from datetime import UTC, date, datetime, timedelta

import pytest
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from quoting.life.models import FollowUp, KeptLife
from quoting.life.services.follow_ups import set_follow_up
from quoting.life.services.outcomes import enter_outcome
from quoting.life.services.quotes_out import decided_quotes, quotes_out
from quoting.life.services.reading import life_of_job
from quoting.platform.people.signatures import Signature
from quoting.service.audit.life_audit import lives_are_as_the_facts_say
from tests.support.answered import accept, decline, secret_to, with_paper
from tests.support.asking import reasons
from tests.support.desk import as_, opened
from tests.support.worked import TODAY, issued, small_job

__all__ = ["as_"]
pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
NOW = datetime(2026, 11, 25, 15, 0, tzinfo=UTC)
BY = Signature("R. Sallow", TODAY)


@pytest.fixture
def out(frozen_clock):
    """A job whose quotation was handed over today."""
    frozen_clock.move_to(NOW)
    return sent("J-0100")


def sent(key):
    job = small_job(key)
    keep_needs(job.pk, *find_needs(job.pk, TODAY), NOW)
    secret_to(with_paper(issued(job, key)), by_hand=True)
    return job


def test_a_quotation_out_is_told_with_value_age_and_last_day(out):
    (result,) = quotes_out(TODAY + timedelta(days=12))
    assert (result.job, result.age, result.follow_up, result.act_by) == (out, 12, None, result.revision.valid_until)
    assert result.value == out.quote.revisions.get().price


def test_a_follow_up_comes_next_for_its_person_until_the_client_answers(out):
    day = date(2026, 12, 1)
    set_follow_up(out, {"day": "2026-12-01", "person": "Ines"}, BY, now=NOW)
    step = life_of_job(out, TODAY).life.next
    assert (step.text, step.by, step.person) == ("Ask Tern Street Clinic for an answer", day, "Ines")
    assert quotes_out(TODAY)[0].act_by == day
    accept(out.quote.revisions.get())
    assert quotes_out(TODAY) == [] and KeptLife.objects.get(job=out).to_core().follow_up is None
    assert list(lives_are_as_the_facts_say(NOW)) == []


def test_what_happened_on_a_job_tells_of_a_follow_up(as_, out, frozen_clock):
    frozen_clock.move_to(NOW + timedelta(hours=1))
    set_follow_up(out, {"day": "2026-12-01", "person": "Ines"}, BY, now=NOW)
    message = as_("office").get(reverse("job_history", args=[out.pk])).content.decode()
    assert "when the client is asked next" in message and "Ines" in message


def test_a_follow_up_without_a_day_is_taken_away(out):
    set_follow_up(out, {"day": "2026-12-01"}, BY, now=NOW)
    assert FollowUp.objects.get().person == "R. Sallow"
    assert set_follow_up(out, {}, BY, now=NOW) is None
    assert (FollowUp.objects.count(), life_of_job(out, TODAY).facts.follow_up) == (0, None)


def test_a_follow_up_in_the_past_or_of_nothing_sent_is_refused(out):
    with pytest.raises(DocumentError, match="has passed"):
        set_follow_up(out, {"day": "2026-11-24"}, BY, now=NOW)
    with pytest.raises(Refused, match="waits for an answer"):
        set_follow_up(small_job("J-0101"), {"day": "2026-12-01"}, BY, now=NOW)


def test_an_expired_quotation_stays_until_somebody_says_what_became_of_it(out):
    later = out.quote.revisions.get().valid_until + timedelta(days=3)
    assert [entry.is_expired for entry in quotes_out(later)] == [True]
    enter_outcome(out, {"kind": "no_answer", "said_on": TODAY.isoformat()}, BY, now=NOW)
    assert quotes_out(later) == []


def test_won_lost_and_declined_count_once_each_within_twelve_months(out):
    accept(with_paper(issued(small_job("J-0101"), "b")))
    decline(with_paper(issued(small_job("J-0102"), "c")))
    enter_outcome(out, {"kind": "date"}, BY, now=NOW)
    lost = decided_quotes(TODAY)
    assert (lost.won.count, lost.lost.count, lost.rate) == (1, 2, None)
    assert sorted(why for why, _ in lost.reasons) == ["Declined by the client", "Lost to the date"]
    later = decided_quotes(TODAY + timedelta(days=400))
    assert (later.won.count, later.lost.count) == (0, 0)


def test_a_declined_quotation_that_was_quoted_again_is_not_lost(out):
    decline(out.quote.revisions.get())
    issued(out, "again")
    assert decided_quotes(TODAY).lost.count == 0


def test_the_filter_sent_leads_those_who_price_to_the_quotes_out(as_, out):
    answer = as_("owner").get(reverse("job_list"), {"station": "sent", "q": "Tern"})
    assert answer.url == f"{reverse('quotes_out')}?q=Tern"
    shown = as_("estimator").get(answer.url).content.decode()
    assert "1 waits for an answer" in shown and "sent today, not opened" in shown
    assert as_("office").get(reverse("job_list"), {"station": "sent"}).status_code == 200


def test_a_follow_up_is_entered_on_its_page_and_a_wrong_day_is_named(as_, out):
    desk, url = as_("estimator"), reverse("follow_up", args=[out.pk])
    assert "has passed" in desk.post(url, {"day": "2026-11-01", **opened(desk, url)}).content.decode()
    answer = desk.post(url, {"day": "2026-12-01", "person": "Ines", **opened(desk, url)}, follow=True)
    assert "Ines asks Tern Street Clinic" in answer.content.decode()


def test_today_leads_whoever_quotes_to_the_follow_up(as_, out):
    set_follow_up(out, {"day": "2026-11-27", "person": "Ines"}, BY, now=NOW)
    desk = as_("estimator")
    shown = desk.get(reverse("today")).content.decode()
    url = reverse("follow_up", args=[out.pk])
    assert "Ask Tern Street Clinic for an answer" in shown and f'href="{url}"' in shown
    assert "Ask Tern" not in as_("lead").get(reverse("today")).content.decode()


def test_the_api_tells_quotes_out_and_takes_a_follow_up_from_what_was_read(estimator, out):
    path = f"/api/jobs/{out.key}/follow-up"
    assert estimator("PUT", path, {"day": "2026-12-01"}).status_code == 428
    assert estimator.as_read("PUT", path, {"day": "2026-12-01", "person": "Ines"}).status_code == 200
    assert "day" in reasons(estimator.as_read("PUT", path, {"day": "2026-11-01"}))
    (message,) = estimator.get("/api/quotes/out").json()["quotes"]
    assert (message["job"], message["follow_up"]) == (out.key, {"day": "2026-12-01", "person": "Ines"})


@pytest.mark.parametrize("role", ["office", "lead"])
def test_those_who_do_not_price_are_given_no_quotes_out(asker, out, role):
    caller = asker(role)
    assert caller.get("/api/quotes/out").status_code == 403
    caller.client.force_login(caller.person)
    assert caller.client.get(reverse("quotes_out")).status_code == 403


def test_no_page_of_quotes_out_names_a_cost(as_, asker, out):
    cost = f"{out.quote.revisions.get().cost:,}"
    for message in (as_("owner").get(reverse("quotes_out")), asker("estimator").get("/api/quotes/out")):
        assert cost not in message.content.decode() and cost.replace(",", "") not in message.content.decode()
