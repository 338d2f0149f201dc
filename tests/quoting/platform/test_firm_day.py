"""One day everywhere: the firm's, not the service's and not the reader's.

At 02:00 UTC on 26 November it is 21:00 on the 25th in New York (UTC-5 in winter, IANA Time Zone Database).
"""

import json
import re
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from django.conf import settings as service_settings
from django.core.management import call_command
from django.urls import reverse

from catalog.models import Firm
from jobs.jobs.models import Job
from quoting.platform import clock
from quoting.platform.people.models import Token
from quoting.platform.people.services.tokens import make_token
from tests.documents import document
from tests.support.desk import priced_job

LATE = datetime(2026, 11, 26, 2, 0, tzinfo=UTC)
DAY = date(2026, 11, 25)


@pytest.fixture
def job(db, settings):
    settings.TIME_ZONE = "UTC"
    job = priced_job()
    Firm.objects.update(time_zone="America/New_York")
    with clock.use(clock.FrozenClock(LATE)):
        yield job


@pytest.fixture
def owner(client, make_person, job):
    client.force_login(make_person("owner"))
    return client


def days_shown(client, job):
    pages = {
        "today": [],
        "order_dates": [],
        "supplier_list": [],
        "firm": [],
        "usual_pricing": [],
        **{name: [job.pk] for name in ("job", "job_order_dates", "job_dates", "quote", "quote_issue")},
        "wall": [job.pk, "reception-screen"],
    }
    return {name: client.get(reverse(name, args=args)).context.get("today") for name, args in pages.items()}


def test_every_page_is_of_the_day_it_is_at_the_firm(owner, job):
    days = days_shown(owner, job)
    assert {name: day for name, day in days.items() if day != DAY and day is not None} == {}
    assert sum(day == DAY for day in days.values()) >= 6


def test_another_zone_of_the_firm_is_another_day(owner, job):
    """The control: the day on the pages does follow the firm."""
    Firm.objects.update(time_zone="Europe/Lisbon")
    assert {day for day in days_shown(owner, job).values() if day is not None} == {date(2026, 11, 26)}


def test_what_is_stored_and_written_is_of_that_day_too(owner, job):
    owner.post(reverse("job_close", args=[job.pk]), {"seen_version": job.version})
    assert Job.objects.get().closed_on == DAY
    assert "catalog-2026-11-25.csv" in owner.get(reverse("catalog_csv"))["Content-Disposition"]


def test_the_api_answers_for_that_day_and_notes_it_beside_the_token(client, make_person, job):
    bearer = {"Authorization": f"Bearer {make_token(make_person('estimator'), 'a test', LATE)[1]}"}
    answer = client.get(f"/api/jobs/{job.key}/walls/reception-screen/takeoff", headers=bearer)
    assert answer.json()["on"] == "2026-11-25"
    assert Token.objects.get().last_used_on == DAY


@pytest.mark.parametrize(
    ("zone", "day"), [("America/New_York", "Wed 25 Nov 2026"), ("Europe/Lisbon", "Thu 26 Nov 2026")]
)
def test_a_file_worked_up_without_a_day_is_of_the_day_at_its_own_firm(db, tmp_path, capsys, zone, day):
    file = document("jobs/larkmoor-dental.json")
    file["firm"] |= {"time_zone": zone}
    (tmp_path / "job.json").write_text(json.dumps(file, default=str))
    with clock.use(clock.FrozenClock(LATE)):
        call_command("work_up", str(tmp_path / "job.json"), out=tmp_path / "out")
    assert f"As of {day}" in capsys.readouterr().out


def test_nothing_asks_for_the_day_but_by_the_firm():
    """Days of the machine's own zone, or of the settings' zone, are not the firm's."""
    root = Path(service_settings.BASE_DIR)
    wrong = re.compile(r"clock\.today\(|date\.today\(|timezone\.localdate\(|{%\s*now\s")
    files = [file for part in ("quoting", "jobs", "catalog") for file in (root / part).rglob("*.py")]
    files += (root / "templates").rglob("*.html")
    assert len(files) > 200
    assert [str(file.relative_to(root)) for file in files if wrong.search(file.read_text(encoding="utf-8"))] == []
