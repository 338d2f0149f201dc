"""Standards from the record: three closed jobs teach, the owner accepts, the next suggestions follow from it."""

from datetime import date, timedelta
from decimal import Decimal

import pytest
from django.db import DatabaseError
from django.db.transaction import atomic
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from catalog.models import Material, Standard
from jobs.jobs.models import Job
from quoting.platform.people.signatures import Signature
from quoting.record.models import LearntStandard
from quoting.record.services.accepting import accept_standard
from quoting.record.services.leaving_out import count_left_over, leave_out, take_in_again
from quoting.record.services.resting import open_quotes
from quoting.record.services.suggesting import suggestion_of
from tests.stored import lay
from tests.support.answered import secret_to
from tests.support.asking import reasons
from tests.support.closed import BOARD, RATE, boards_came, closed_job, spend
from tests.support.worked import NOW, TODAY, issued, small_job

pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
BY = Signature("Ottilie Wendrell", TODAY)
CURVE = "curve_factor"
# 1.8 x 1.2 ** (3/5): three jobs that took 1.2 of the standard's hours.
LEARNT = Decimal("2.0081")


@pytest.fixture
def three(frozen_clock):
    frozen_clock.move_to(NOW)
    days = {f"J-010{n}": date(2026, 11, 20 + n) for n in (1, 2, 3)}
    lay("three closed jobs", lambda: [closed_job(key, day, boards="1.2") for key, day in days.items()], NOW)
    return list(Job.objects.order_by("key"))


def accepted(key="first", standard=CURVE, now=NOW):
    seen = suggestion_of(standard)
    document = {"request_key": key, "standard": standard, "value": format(seen.value, "f")}
    return accept_standard(document, BY, now=now)


def test_three_closed_jobs_suggest_a_curve_factor_from_their_hours(three):
    suggestion = suggestion_of(CURVE)
    assert (suggestion.was, suggestion.is_offered, suggestion.lesson.n) == (Decimal("1.8"), True, 3)
    assert abs(suggestion.value - LEARNT) < Decimal("0.005")  # entries are whole minutes


def test_an_accepted_standard_is_dated_named_and_kept_with_its_jobs(three):
    row, is_new = accepted()
    standard = Standard.objects.get(name=CURVE)
    assert (standard.value, standard.source, standard.stated_on) == (row.value, "own record", TODAY)
    assert (is_new, row.used, row.count) == (True, ["J-0101", "J-0102", "J-0103"], 3)
    assert row.accepted_by_name == "Ottilie Wendrell" and row.error < row.error_was


def test_sent_twice_it_is_accepted_once_and_the_same_key_takes_nothing_else(three):
    row, _ = accepted()
    again = {"request_key": "first", "standard": CURVE, "value": format(row.value, "f")}
    assert accept_standard(again, BY, now=NOW) == (row, False)
    with pytest.raises(DocumentError, match="another standard"):
        accept_standard(again | {"value": "3"}, BY, now=NOW)
    assert LearntStandard.objects.count() == 1


def test_the_next_suggestions_follow_from_what_was_accepted(three):
    """Framing is on the curve as well: with the factor learnt its own hours by the standard grow alike."""
    for job in three:
        spend(job, "framing", Decimal(5))
    before = suggestion_of("framing_hours_per_stud").lesson.used[0].by_standard
    row, _ = accepted()
    after = suggestion_of("framing_hours_per_stud").lesson.used[0].by_standard
    assert abs(after / before - row.value / Decimal("1.8")) < Decimal("0.0001")
    assert suggestion_of(CURVE).was == row.value


def test_another_value_than_the_record_suggests_is_refused(three):
    for value in ("3", "2"):
        with pytest.raises(Refused, match="suggests"):
            accept_standard({"request_key": value, "standard": CURVE, "value": value}, BY, now=NOW)
    assert Standard.objects.get(name=CURVE).source != "own record"


def test_a_suggestion_out_of_bounds_is_not_offered(three):
    """A curve factor is at most 10: of 9.9 the jobs would make more."""
    Standard.objects.filter(name=CURVE).update(value=Decimal("9.9"))
    for job in three:
        spend(job, "boards", sum(row.minutes for row in job.time_entries.all()) / Decimal(60) * 6)
    suggestion = suggestion_of(CURVE)
    assert (suggestion.is_offered, suggestion.lesson.why_not) == (False, "out of bounds")
    with pytest.raises(Refused, match="out of bounds"):
        accept_standard({"request_key": "k", "standard": CURVE, "value": format(suggestion.value, "f")}, BY, now=NOW)


def test_a_job_left_out_by_name_teaches_no_more_until_it_is_taken_in_again(three):
    texts = {"standard": CURVE, "job": "J-0102", "reason": "a flood"}
    assert [leave_out(texts, BY, now=NOW)[1] for _ in range(2)] == [True, False]
    result = suggestion_of(CURVE).lesson
    assert [(entry.job, why) for entry, why in result.left_out] == [("J-0102", "a flood")]
    assert result.why_not == "2 of 3 jobs"
    assert take_in_again({"standard": CURVE, "job": "J-0102"}, BY, now=NOW)
    assert suggestion_of(CURVE).is_offered


def test_hours_on_no_step_leave_a_job_out_and_rework_counts_for_nothing(three):
    before = suggestion_of(CURVE).value
    spend(three[0], "boards", Decimal(40), tag="rework")
    assert suggestion_of(CURVE).value == before
    spend(three[0], "", Decimal(1))
    ((entry, why),) = suggestion_of(CURVE).lesson.left_out
    assert (entry.job, why) == ("J-0101", "1 entry on no step")


def test_a_job_opened_again_teaches_nothing(three):
    three[0].closed_on = None
    three[0].save()
    assert suggestion_of(CURVE).lesson.n == 2


def test_boards_received_less_what_was_left_over_teach_their_waste(three):
    for job in three:
        boards_came(job, 6)
    standard = f"waste {BOARD}"
    assert {why for _, why in suggestion_of(standard).lesson.left_out} == {"left over not counted"}
    for job in three:
        count_left_over(job, {"left_over": {BOARD: "1"}}, BY, now=NOW)
    board = Material.objects.get(code=BOARD)
    size = board.packs.order_by("pk")[0].quantity
    result = suggestion_of(standard).lesson
    assert {entry.actual for entry in result.used} == {5 * size} and result.n == 3
    row, _ = accepted(standard=standard)
    board.refresh_from_db()
    assert board.waste == row.value and suggestion_of(standard).was == row.value


def test_quotes_that_are_out_say_which_standard_they_rest_on(three, asker):
    out = small_job("J-0104")
    secret_to(issued(out, "before"), by_hand=True)
    row, _ = accepted(now=NOW + timedelta(hours=1))
    ((revision, (on,)),) = open_quotes()
    assert (revision.quote.job, on.value, on.is_former) == (out, Decimal("1.8"), True)
    shown = asker("owner")
    shown.client.force_login(shown.person)
    page = shown.client.get(reverse("revision", args=[out.pk, 1])).content.decode()
    assert "Times longer on a curve than on a flat wall: 1.8, before" in page
    issued(out, "after", now=NOW + timedelta(hours=2))
    ((_, (on,)),) = open_quotes()
    assert (on.value, on.is_former) == (row.value, False)


def test_what_was_accepted_is_frozen(three):
    accepted()
    with pytest.raises(DatabaseError), atomic():
        LearntStandard.objects.update(accepted_by_name="Somebody else")


@pytest.mark.parametrize(
    ("text", "path"),
    [
        ({"standard": "saw_kerf_mm", "job": "J-0101", "reason": "x"}, "standard"),
        ({"standard": CURVE, "job": "J-9999", "reason": "x"}, "job"),
        ({"standard": CURVE, "job": "J-0101", "reason": " "}, "reason"),
    ],
)
def test_what_cannot_be_left_out_names_what_is_wrong(three, text, path):
    with pytest.raises(DocumentError) as refused:
        leave_out(text, BY, now=NOW)
    assert refused.value.complaints[0].path == path


def test_boards_of_no_order_cannot_be_left_over(three):
    boards_came(three[0], 6)
    for given, path in (({"GB-99": "1"}, "left_over.GB-99"), ({BOARD: "-1"}, f"left_over.{BOARD}")):
        with pytest.raises(DocumentError) as refused:
            count_left_over(three[0], {"left_over": given}, BY, now=NOW)
        assert refused.value.complaints[0].path == path


def test_the_owner_accepts_on_the_page_and_the_estimator_sees_it(three, asker):
    owner, estimator = asker("owner"), asker("estimator")
    for entry in (owner, estimator):
        entry.client.force_login(entry.person)
    shown = owner.client.get(reverse("learnt"))
    assert b"Times longer on a curve" in shown.content and b"J-0101" in shown.content
    seen = {"request_key": "page", "standard": CURVE, "value": format(suggestion_of(CURVE).value, "f")}
    assert estimator.client.post(reverse("learnt_accept"), seen).status_code == 403
    answer = owner.client.post(reverse("learnt_accept"), seen, follow=True)
    assert b"from today on. Quotes that are out stay." in answer.content
    assert b"Taken from the record" in estimator.client.get(reverse("learnt")).content


def test_the_api_suggests_accepts_once_leaves_out_and_counts_what_was_left(three, asker):
    owner, estimator = asker("owner"), asker("estimator")
    message = {entry["standard"]: entry for entry in estimator.get("/api/standards/suggested").json()["suggested"]}
    body = {"request_key": "api", "standard": CURVE, "value": message[CURVE]["value"]}
    assert estimator.post("/api/standards/suggested", body).status_code == 403
    assert [owner.post("/api/standards/suggested", body).status_code for _ in range(2)] == [201, 200]
    assert owner.post("/api/standards/suggested", body | {"value": "3"}).status_code == 409
    texts = {"standard": CURVE, "job": "J-0101", "reason": "a flood"}
    assert [estimator.post("/api/standards/left-out", texts).status_code for _ in range(2)] == [201, 200]
    undone = estimator.post("/api/standards/left-out/undo", {"standard": CURVE, "job": "J-0101"})
    assert undone.json() == {"was_out": True}
    boards_came(three[0], 6)
    path = "/api/jobs/J-0101/left-over"
    assert estimator.as_read("PUT", path, {"left_over": {BOARD: "2"}}).json() == {"left_over": {BOARD: "2"}}
    assert "left_over.GB-99" in reasons(estimator.as_read("PUT", path, {"left_over": {"GB-99": "2"}}))


@pytest.mark.parametrize("role", ["office", "lead"])
def test_those_who_do_not_price_see_no_suggestions(three, asker, role):
    entry = asker(role)
    assert entry.get("/api/standards/suggested").status_code == 403
    entry.client.force_login(entry.person)
    assert entry.client.get(reverse("learnt")).status_code == 403


@pytest.mark.parametrize("role", ["owner", "estimator", "office", "lead"])
def test_nobody_reads_a_labour_rate_of_the_record(three, asker, role):
    boards_came(three[0], 6)
    entry = asker(role)
    api = [entry.get(path) for path in ("/api/standards/suggested", "/api/jobs/J-0101/left-over")]
    entry.client.force_login(entry.person)
    pages = [entry.client.get(reverse(*at)) for at in (("learnt",), ("left_over", None, [three[0].pk]))]
    assert all(str(RATE) not in answer.content.decode() for answer in [*api, *pages])


@pytest.mark.parametrize(("role", "reads"), [("estimator", True), ("office", False)])
def test_what_happened_on_a_job_tells_an_hours_cost_to_those_who_price_alone(three, asker, role, reads):
    entry = asker(role)
    entry.client.force_login(entry.person)
    message = entry.client.get(reverse("job_history", args=[three[0].pk])).content.decode()
    assert (str(RATE) in message) == reads
