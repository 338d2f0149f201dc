"""What changes cost beside their prices: for those who see margins, and for nobody else.

The quote: 13,841.94 before tax at a cost of 8,582.00, a margin of 38 %. With a niche of 200.00 that costs 150.00 and a
door less for 80.00 whose cost nobody said, 62 % of it or 49.60: 13,961.94 at 8,682.40, 37.81 %."""

from datetime import timedelta

import pytest
from django.urls import reverse

from quoting.changes.models import ChangeNoteLine
from quoting.changes.services.change_drafts import draft_from_walls, save_draft
from quoting.changes.services.change_notes import answer_change, issue_change
from quoting.changes.services.change_snapshots import frozen_change_paper
from quoting.platform import clock
from quoting.platform.papers.typeset import paper_html
from quoting.quotes.services.given_answers import Given
from tests.quoting.changes.test_change_notes import longer
from tests.support.answered import accept, secret_to, with_note_paper, with_paper
from tests.support.worked import NOW, PRICING, TODAY, estimator, issued, small_job

pytestmark = pytest.mark.django_db
NICHE = {"what": "Niche", "price": "200.00", "cost": "151.11"}
CHANGE = {
    "title": "A niche",
    "reason": "Asked for.",
    "lines": [{"what": "Niche", "price": "200.00", "cost": "150.00"}, {"what": "A door less", "price": "-80.00"}],
}


def agreed():
    revision = with_paper(issued(small_job()))
    secret = secret_to(revision)
    accept(revision)
    return revision.quote.job, secret


def noted(job, change=CHANGE):
    draft = save_draft(job, change, by=estimator(), now=NOW)
    note = issue_change(draft, request_key="n", seen_version=1, by=estimator(), now=NOW, today=TODAY)
    return with_note_paper(note)


def signed(job, change=CHANGE):
    note = noted(job, change)
    answer_change(note, Given("signed", "Ada Client"), now=NOW, today=TODAY)
    return note


def test_the_margin_with_signed_notes_is_known_and_says_what_of_it_is_assumed(estimator):
    signed(agreed()[0])
    margins = estimator.get("/api/jobs/J-0100/contract").json()["margins"]
    assert margins["accepted"] == {"price": "13841.94", "cost": "8582.00", "assumed": "0.00", "margin": "0.38"}
    assert margins["present"] == {"price": "13961.94", "cost": "8682.40", "assumed": "80.00", "margin": "0.3781"}


def test_the_office_reads_prices_and_no_cost_of_a_change(office, estimator):
    job, _ = agreed()
    save_draft(job, CHANGE, by=signed(job).issued_by, now=NOW)
    for reader, keys in ((office, {"what", "price", "taxed"}), (estimator, {"what", "price", "taxed", "cost"})):
        note = reader.get("/api/jobs/J-0100/change-notes/1").json()
        draft = reader.get("/api/jobs/J-0100/changes").json()["drafts"][0]
        assert [set(entry) for entry in (*note["lines"], *draft["lines"])] == [keys] * 4
        assert ("margins" in reader.get("/api/jobs/J-0100/contract").json()) is ("cost" in keys)


@pytest.mark.parametrize(("role", "sees"), [("owner", True), ("office", False)])
def test_pages_show_costs_of_a_change_and_the_margin_to_who_sees_margins(client, make_person, role, sees):
    job, _ = agreed()
    signed(job)
    save_draft(job, CHANGE | {"lines": [NICHE]}, by=estimator(), now=NOW)
    client.force_login(make_person(role))
    with clock.use(clock.FrozenClock(NOW + timedelta(hours=1))):
        shown = [client.get(reverse(name, args=args), {"save": "all"}).content.decode() for name, args in pages(job)]
    assert [any(word in page for word in ("150.00", "37.81", "151.11")) for page in shown] == [sees] * len(pages(job))


def pages(job):
    draft = job.change_drafts.get().pk
    return [
        ("change_list", [job.pk]),
        ("change_note", [job.pk, 1]),
        ("change_draft", [draft]),
        ("job_history", [job.pk]),
    ]


def test_no_cost_reaches_the_client_nor_the_paper(client):
    job, secret = agreed()
    note = noted(job)
    assert ChangeNoteLine.objects.filter(cost=150).exists()
    with clock.use(clock.FrozenClock(NOW)):
        page = client.get(f"/q/{secret}/changes/{note.number}/").content.decode()
    for text in (page, paper_html(frozen_change_paper(note))):
        assert "200.00" in text and "150.00" not in text


def test_a_cost_that_is_no_money_is_named(estimator):
    agreed()
    answer = estimator.post("/api/jobs/J-0100/changes", CHANGE | {"lines": [NICHE | {"cost": "cheap"}]})
    assert answer.status_code == 400
    assert "lines[0].cost" in answer.content.decode()


@pytest.mark.parametrize("by_takeoff", [False, True])
def test_a_change_of_the_walls_says_its_cost_by_item_and_the_items_add_up_to_its_lines(by_takeoff):
    walls = {"materials": "takeoff", "labour": [], "labour_from_hours": {"rate": "47.00"}}
    job = small_job(pricing={**PRICING, **walls}) if by_takeoff else small_job()
    revision = with_paper(issued(job))
    accept(revision)
    draft = draft_from_walls(longer(job, 144), by=estimator(), now=NOW, today=TODAY)
    costs = [row.to_core() for row in draft.costs.all()]
    assert "GB-14" in [cost.item for cost in costs] or not by_takeoff
    assert sum(cost.cost for cost in costs) == sum(line.cost for line in draft.lines.all()) > 0


def test_cost_lines_count_before_costs_of_lines_in_the_margin(estimator):
    job, _ = agreed()
    costs = [{"category": "labour", "item": "niche", "quantity": "3", "unit_cost": "50.00"}]
    signed(job, {**CHANGE, "lines": [{"what": "Niche", "price": "120.00"}], "costs": costs})
    margins = estimator.get("/api/jobs/J-0100/contract").json()["margins"]["present"]
    # 8,582.00 and 150.00; nothing is assumed any more.
    assert (margins["cost"], margins["assumed"]) == ("8732.00", "0.00")


def test_the_cost_of_a_change_typed_by_hand_is_said_one_of_two_ways(estimator):
    agreed()
    costs = [{"category": "labour", "item": "niche", "quantity": "3", "unit_cost": "50.00"}]
    answer = estimator.post("/api/jobs/J-0100/changes", {**CHANGE, "costs": costs}, content_type="application/json")
    assert answer.status_code == 400
    assert "one of the two ways" in str(answer.json())


def test_the_page_of_a_draft_takes_cost_lines(client, make_person):
    job, _ = agreed()
    draft = save_draft(job, CHANGE | {"lines": [{"what": "Niche", "price": "200.00"}]}, by=estimator(), now=NOW)
    client.force_login(make_person("estimator"))
    line = {"lines-0-what": "Niche", "lines-0-price": "200.00"}
    cost = {"category": "labour", "item": "niche", "quantity": "10", "unit_cost": "48.00"}
    sent = {"title": "A niche", "kind": "lines", "reason": "Asked.", "days_moved": "0", "seen_version": "1", **line}
    page = reverse("change_draft", args=[draft.pk])
    assert client.post(page, {**sent, **{f"costs-0-{name}": text for name, text in cost.items()}}).status_code == 302
    assert [str(row) for row in draft.costs.all()] == ["niche: 10.000000 at 48.000000"]
    assert 'value="niche"' in client.get(page).content.decode()
