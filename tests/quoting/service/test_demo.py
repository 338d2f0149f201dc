"""The demo as one runs it: in processes of its own, on a data folder of its own."""

import os
import re
import signal
import stat
import time
from decimal import ROUND_HALF_UP, Decimal

import pytest

from quoting.service.demo.demo import DEMO_DAY
from tests.support.paper_reading import whole_text

pytestmark = pytest.mark.sqlite  # the demo runs on the embedded default
CLAIMED = "SELECT claimed_by, kind FROM quoting_errand WHERE state = 'claimed'"
SUMS = re.compile(r"Price USD (\S+), tax USD (\S+), total USD ([\d,.]+);")
PAPER_PATH = re.compile(r"^    (/.*\.pdf)$", re.MULTILINE)


def demo(service, **environment):
    service.first_day = max(service.first_day, DEMO_DAY)
    process = service.start("manage.py", "demo", **environment)
    out, err = process.communicate(timeout=280)
    assert process.returncode == 0, err
    return out


def texts_of(out):
    return [whole_text(open(path, "rb").read()) for path in PAPER_PATH.findall(out)]


@pytest.fixture(scope="module")
def undisturbed(service_template, tmp_path_factory):
    with service_template.copy(tmp_path_factory.mktemp("demo")) as service:
        out = demo(service)
        yield service, out, texts_of(out)


def test_its_price_is_made_of_its_takeoff_and_its_hours(undisturbed):
    """38 % margin on the takeoff, 650.00 of painting, 240.00 of delivery, and hours at 47.00, to a tenth of an hour."""
    _, out, _ = undisturbed
    takeoff = sum(Decimal(cost) for cost in re.findall(r"USD (\S+)$", out.partition("Quotation")[0], re.MULTILINE))
    price, tax, total = (Decimal(word.replace(",", "")) for word in SUMS.search(out).groups())
    tenths = (price * Decimal("0.62") - takeoff - 650 - 240) / Decimal("4.70")
    assert takeoff > 1000 and tenths > 500 and abs(tenths - round(tenths)) < Decimal("0.02")
    assert (tax, total) == ((price * Decimal("0.13")).quantize(Decimal("0.01"), ROUND_HALF_UP), price + tax)


def test_its_dates_are_those_worked_by_hand(undisturbed):
    _, out, _ = undisturbed
    assert re.search(r"Base, bendable polymer.*Thu 10 Dec 2026 +Thu 3 Dec 2026 +Mon 25 Jan 2027", out)
    assert re.search(r"Curvable track.*Thu 10 Dec 2026.*Mon 4 Jan 2027", out)
    assert "Figures as of Wed 25 Nov 2026, the day the example is written for." in out
    assert len(re.findall(r"^  O-000\d .* placed ", out, re.MULTILINE)) == 5


def test_it_makes_both_papers_and_names_their_paths(undisturbed):
    _, _, texts = undisturbed
    assert len(texts) == 2
    assert "Quotation" in texts[0]
    assert SUMS.search(undisturbed[1])[3] in texts[0]
    assert "Thu 10 Dec 2026" in texts[1]


def test_its_log_ins_work_and_are_for_the_owner_of_the_folder_alone(undisturbed):
    service, out, _ = undisturbed
    stored = service.folder / "demo-log-ins.txt"
    assert stat.S_IMODE(stored.stat().st_mode) == 0o600
    pairs = [line.split()[:2] for line in stored.read_text().splitlines()]
    assert [pair for pair in pairs if f"{pair[0]:16} {pair[1]}" not in out] == []
    code = (
        "from quoting.platform.people.models import Person; print([name for name, password in "
        f"{pairs!r} if not Person.objects.get(login_name=name).check_password(password)])"
    )
    tried = service.manage("shell", "-v0", "-c", code)
    assert tried.stdout.strip().endswith("[]"), tried.stderr


def test_run_again_it_says_the_same_and_makes_nothing_new(undisturbed):
    service, out, _ = undisturbed
    tables = ("quoting_paper", "quoting_quoterevision", "quoting_errand", "jobs_job", "jobs_order", "jobs_delivery")
    count = f"SELECT {', '.join(f'(SELECT count(*) FROM {table})' for table in tables)}"
    before = service.rows(count)
    again = demo(service)
    assert PAPER_PATH.findall(again) == PAPER_PATH.findall(out)
    assert service.rows(count) == before
    assert "A worker" not in again


def test_five_jobs_are_signed_and_one_offers_a_choice_an_allowance_and_a_notice(undisturbed):
    service, _, _ = undisturbed
    signed = "SELECT count(*) FROM quoting_quoterevision WHERE state = 'accepted'"
    offered = "SELECT (SELECT count(*) FROM quoting_optionentry), (SELECT count(*) FROM quoting_allowanceentry)"
    assert (service.rows(signed), service.rows(offered)) == ([(5,)], [(2, 1)])
    assert service.rows("SELECT count(*) FROM quoting_cancellationterm WHERE days > 0") == [(1,)]


def test_four_jobs_are_closed_with_their_hours_bills_and_requests_and_two_months_of_them(undisturbed):
    """Each of the four was asked for in three parts and billed by the counter, its painters and its haulage."""
    service, _, _ = undisturbed
    closed = "SELECT id FROM jobs_job WHERE closed_on IS NOT NULL"
    months = f"SELECT count(DISTINCT strftime('%Y-%m', day)) FROM jobs_timeentry WHERE job_id IN ({closed})"
    bills = f"SELECT count(DISTINCT bill_id) FROM jobs_billline WHERE job_id IN ({closed})"
    requests = f"SELECT count(*) FROM quoting_paymentrequest WHERE job_id IN ({closed})"
    counts = [service.rows(query)[0][0] for query in (months, bills, requests)]
    assert counts[0] >= 3 and counts[1:] == [4 * 3 + 2, 4 * 3]
    assert service.rows("SELECT count(*) FROM quoting_closedmonth") == [(2,)]


def test_everything_is_in_order_afterwards(undisturbed):
    service, _, _ = undisturbed
    audit = service.manage("audit")
    assert audit.returncode == 0, audit.stdout


@pytest.mark.faults
@pytest.mark.faults_alone
def test_a_worker_killed_while_it_renders_changes_nothing_about_the_papers(undisturbed, own_service):
    process = own_service.start("manage.py", "demo", CURVEWRIGHT_FAILPOINTS="during_render=sleep:2")
    killed = kill_a_worker_at_work(own_service, process)
    out, err = process.communicate(timeout=280)
    assert process.returncode == 0, err
    assert killed is not None, out
    papers = "kind IN ('render_quote', 'render_order_dates')"
    result = f"SELECT count(*), max(tries) FROM quoting_errand WHERE state = 'done' AND {papers}"
    [(count, tries)] = own_service.rows(result)
    assert (count, tries) == (undisturbed[0].rows(result)[0][0], 2)
    assert texts_of(out) == undisturbed[2]


def kill_a_worker_at_work(service, process):
    ends_at = time.monotonic() + 200
    while process.poll() is None and time.monotonic() < ends_at:
        try:
            claimed = service.rows(CLAIMED)
        except Exception:
            claimed = []  # not migrated yet
        for holder, kind in claimed:
            os.kill(int(holder.partition("/")[0].rpartition(":")[2]), signal.SIGKILL)
            return kind
        time.sleep(0.1)
    return None


def test_it_does_not_mix_with_somebodys_work(own_service):
    added = own_service.manage("add_owner", "somebody")
    assert added.returncode == 0, added.stderr
    refused = own_service.manage("demo")
    assert refused.returncode != 0
    assert "Somebody works with this data already" in refused.stderr
    assert own_service.rows("SELECT count(*) FROM quoting_person") == [(1,)]


def test_it_is_not_for_production(own_service):
    refused = own_service.manage("demo", CURVEWRIGHT_MODE="production", CURVEWRIGHT_HOSTS="firm.example")
    assert refused.returncode != 0
    assert "set up for production" in refused.stderr
