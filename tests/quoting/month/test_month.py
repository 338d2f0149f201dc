"""The month of the hall: its goods came in September; its boards, 24 at 19.10, are billed after the close at 464.40."""

from datetime import date
from decimal import Decimal as D

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from jobs.bills.models import Bill
from quoting.life.models import KeptLife
from quoting.month.models import CauseSentence, ClosedMonth
from quoting.month.services.closing import close_month
from quoting.month.services.known_now import known_now
from quoting.month.services.month_documents import month_document
from quoting.month.services.snapshots import snapshot_of
from quoting.platform.posting import month_to_post
from quoting.pricing.models import Pricing
from tests.factories.bills import bill_line, bill_row
from tests.factories.hours import time_entry, worker
from tests.support.desk import as_
from tests.support.hall import Hall
from tests.support.months import OWNER, TODAY
from tests.support.signing import sign
from tests.support.worked import NOW, small_job

__all__ = ["as_"]
pytestmark = pytest.mark.django_db
SEPTEMBER, OCTOBER = date(2026, 9, 1), date(2026, 10, 1)


@pytest.fixture
def hall():
    small_job()
    result = Hall()
    sign(result.job)
    facts = {"opened_on": "2026-08-01", "client": "Orrinsby", "signed_on": "2026-09-01", "begun_on": "2026-09-07"}
    KeptLife.objects.update_or_create(job=result.job, defaults={"facts": facts, "station": "on_site"})
    return result


def done(hall, day="2026-09-25"):
    stored = KeptLife.objects.get(job=hall.job)
    KeptLife.objects.filter(job=hall.job).update(facts={**stored.facts, "last_end": day})


def bill_of_boards(hall):
    """A-779 of 28 September."""
    day = date(2026, 9, 28)
    bill = bill_row("A-779", day=day, posted_month=month_to_post(day), total=D("464.40"))
    bill_line(bill, hall.job, "464.40", "24", order_line=hall.lines["BOARD"], item="BOARD", what="24 boards")


def close():
    bill_row("C-1", day=date(2026, 9, 2), posted_month=SEPTEMBER)
    return close_month(SEPTEMBER, OWNER, now=NOW)


def the_job(document):
    return next(entry for entry in document["jobs"] if entry["key"] == "J-0201")


def test_a_bill_after_the_close_moves_the_next_month_by_6_00_for_the_closed_one(hall):
    row = close()
    bill_of_boards(hall)
    [later] = month_document(OCTOBER, TODAY)["later"]
    assert (later["month"], later["job"], later["change"]) == ("2026-09", "J-0201", "6.00")
    assert [(entry["change"], entry["corrects"]) for entry in later["rows"]] == [
        ("464.40", "P-1, Board"), ("-458.40", ""),
    ]  # fmt: skip
    assert snapshot_of(row) == snapshot_of(ClosedMonth.objects.get()), "the closed month stays"


def test_as_known_now_stands_beside_as_closed_with_the_rows_between(hall):
    row = close()
    assert known_now(row, TODAY) == []
    bill_of_boards(hall)
    [news] = known_now(row, TODAY)
    assert (news.now.to_date - news.closed.to_date, news.now.cost - news.closed.cost) == (D("6.00"), D("6.00"))
    assert sum(new.change for new in news.rows) == D("6.00")


def test_what_a_later_month_has_told_is_not_told_again(hall):
    close()
    bill_of_boards(hall)
    november = date(2026, 11, 3)
    close_month(OCTOBER, type(OWNER)("O. Owner", november), now=NOW)
    day = date(2026, 9, 30)
    bill = bill_row("A-780", day=day, posted_month=date(2026, 11, 1), total=D("9.00"))
    bill_line(bill, hall.job, "9.00")
    [later] = month_document(date(2026, 11, 1), november)["later"]
    assert (later["month"], later["change"]) == ("2026-09", "9.00")


def test_rows_of_the_days_after_the_month_are_not_in_it(hall):
    time_entry(worker(), hall.job, 60, date(2026, 9, 30))
    time_entry(worker("Ada"), hall.job, 60, date(2026, 10, 2))
    # 3,661.18 of goods and freight, and one hour at 48.00.
    assert the_job(month_document(SEPTEMBER, TODAY))["to_date"] == "3709.18"
    assert the_job(month_document(OCTOBER, TODAY))["to_date"] == "3757.18"


def test_a_job_stands_in_the_month_it_is_done_in_and_in_none_after(hall):
    assert the_job(month_document(SEPTEMBER, TODAY))["done_on"] is None
    done(hall)
    document = month_document(SEPTEMBER, TODAY)
    assert the_job(document)["done_on"] == "2026-09-25"
    assert document["made"].startswith("The finished job made ")
    assert [entry["key"] for entry in month_document(OCTOBER, TODAY)["jobs"]] == []


def test_goods_without_a_bill_hours_and_drafts_are_named_before_the_close(hall):
    worker("Teodor", first_day=date(2026, 9, 29))
    time_entry(worker("Rowan", first_day=date(2026, 9, 30)), hall.job, 60, date(2026, 9, 30))
    bill_row("D-1", entered_at=None, entered_by_name="", posted_month=None, day=date(2026, 9, 9), total=D("31.00"))
    pairs = [(entry["what"], entry["amount"]) for entry in month_document(SEPTEMBER, TODAY)["missing"]]
    assert pairs == [
        ("Hours of Tue 29 Sep 2026 are missing: Teodor", None),
        ("Hours of Wed 30 Sep 2026 are missing: Teodor", None),
        ("Bill D-1, Corner shop: a draft, not entered", "31.00"),
        # Lines and freight: 558.00 + 742.50 + 458.40 + 73.28, and 8 x 218.00 + 85.00.
        ("Order P-1, The yard: received, no bill yet", "1832.18"),
        ("Order P-2, Mill: received, no bill yet", "1829.00"),
    ]


def test_many_days_without_hours_are_one_line_for_each_person(hall):
    worker("Teodor", first_day=date(2026, 9, 1))
    message = [entry["what"] for entry in month_document(SEPTEMBER, TODAY)["missing"]]
    assert "No hours of Teodor on 22 days from Tue 1 Sep 2026" in message


def test_hours_without_a_rate_are_missing_of_the_month(hall):
    who = worker(name="Ottilie")
    for day in (29, 28):
        time_entry(who, hall.job, 60, date(2026, 9, day), rate=None)
    result = [entry["what"] for entry in month_document(SEPTEMBER, TODAY)["missing"]]
    assert "No rate for hours of Ottilie, from Mon 28 Sep 2026" in result


def test_missing_hours_lead_to_their_day_and_stay_named_after_the_close(hall, as_):
    worker("Teodor", first_day=date(2026, 9, 30))
    close()
    page = as_("owner").get("/month/2026-09/").content.decode()
    assert "/hours/?day=2026-09-30" in page
    assert "Not in when it closed" in page and "Before you close it" not in page


def test_the_month_equals_the_sums_of_its_files(hall):
    bill_of_boards(hall)
    time_entry(worker(), hall.job, 90, date(2026, 9, 30))
    close()
    time_entry(worker("Ada"), hall.job, 60, date(2026, 9, 30), posted_month=OCTOBER)
    counted = month_document(SEPTEMBER, TODAY)["counted"]
    assert counted == snapshot_of(ClosedMonth.objects.get())["counted"]
    assert (counted["bills"]["amount"], counted["hours"]["minutes"]) == ("464.40", "90")
    assert counted["labour-cost"]["cost"] == "72.00"
    october = month_document(OCTOBER, TODAY)["counted"]
    assert (october["hours"], october["labour-cost"]["cost"]) == ({"rows": 1, "minutes": "60"}, "48.00")


def test_the_firm_is_read_once_for_a_whole_month_and_so_is_each_days_work(hall):
    with CaptureQueriesContext(connection) as result:
        month_document(SEPTEMBER, TODAY)
    wanted = [entry["sql"] for entry in result]
    assert sum('FROM "catalog_firm"' in entry for entry in wanted) == 1
    # The jobs' costs read hours by the job, all else by the month.
    assert sum(entry.startswith('SELECT "jobs_timeentry"."id"') for entry in wanted) <= 2


def test_the_queries_of_a_month_do_not_grow_with_its_jobs(hall):
    def asked():
        with CaptureQueriesContext(connection) as result:
            month_document(SEPTEMBER, TODAY)
        return len(result)

    asked()
    before = asked()
    sign(hall.other)
    facts = {"opened_on": "2026-08-01", "client": "Orrinsby", "signed_on": "2026-09-01"}
    KeptLife.objects.update_or_create(job=hall.other, defaults={"facts": facts})
    asked()
    assert asked() == before < 110


def test_the_owner_reads_says_why_and_closes(hall, as_):
    owner = as_("owner")
    bill_row("C-1", day=date(2026, 9, 2), posted_month=SEPTEMBER)
    Bill.objects.update(entered_by_name="the-owner")
    page = owner.get("/month/2026-09/").content.decode()
    assert "September 2026" in page and "Close September" in page and "Hall" in page
    seen = owner.get(f"/month/2026-09/jobs/{hall.job.pk}/why/").context["form"].stored.version()
    document = {"text": "Two boards came bad.", "seen_version": seen}
    owner.post(f"/month/2026-09/jobs/{hall.job.pk}/why/", document)
    owner.post("/month/2026-09/close/")
    row = ClosedMonth.objects.get()
    assert (row.month, row.closed_by_name, the_job(snapshot_of(row))["said"]) == (
        SEPTEMBER, "the-owner", "Two boards came bad.",
    )  # fmt: skip
    assert "Close September" not in owner.get("/month/2026-09/").content.decode()
    late = owner.post(f"/month/2026-09/jobs/{hall.job.pk}/why/", {"text": "No.", "seen_version": ""})
    assert late.status_code == 409 and CauseSentence.objects.get().text == "Two boards came bad."


def test_the_running_month_has_no_button_to_close_it(hall, as_):
    page = as_("owner").get("/month/2026-10/").content.decode()
    assert "Close October" not in page


@pytest.mark.parametrize("role", ["office", "estimator", "lead"])
def test_the_month_is_the_owner_s_alone(hall, as_, role):
    client = as_(role)
    assert client.get("/month/").status_code == 403
    assert client.post("/month/2026-09/close/").status_code == 403
    assert ClosedMonth.objects.count() == 0


@pytest.mark.parametrize("address", ["/month/2026-11/", "/month/september/", "/month/2026-9/"])
def test_a_month_that_has_not_come_is_not_found(hall, as_, address):
    assert as_("owner").get(address).status_code == 404


def test_a_sentence_over_300_characters_is_refused(hall, as_):
    answer = as_("owner").post(f"/month/2026-09/jobs/{hall.job.pk}/why/", {"text": "x" * 301, "seen_version": ""})
    assert answer.status_code in (409, 422) and not CauseSentence.objects.exists()


def test_without_a_rule_overhead_is_a_gap(hall):
    assert month_document(SEPTEMBER, TODAY)["overhead"]["recovered"] is None
    assert Pricing.objects.filter(job=None).count() <= 1


def test_the_pages_show_what_came_after_the_close_row_by_row(hall, as_):
    owner = as_("owner")
    close()
    bill_of_boards(hall)
    closed = owner.get("/month/2026-09/").content.decode()
    assert "Known since the close" in closed and "A-779" in closed and "464.40" in closed and "458.40" in closed
    later = owner.get("/month/2026-10/").content.decode()
    assert "6.00 for September 2026" in later and "corrects P-1, Board" in later
    assert owner.get("/month/2026-10/?job=J-0201").status_code == 200
    assert owner.get("/buying/bookkeeper/2026-10/").content.decode().count("after close") == 1
