"""The sites of a lead by the day somebody works there next.

Days worked by hand on the worked example of Larkmoor Dental, its start moved to Mon 23 Nov 2026 and its own days taken
out: setting out 23, framing 24 and 25, inspection 26. Today is Wed 25 Nov 2026.
"""

import pytest
from django.urls import reverse

from jobs.jobs.models import Job
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.whole_jobs.services.job_entries import save_job_head
from quoting.platform import clock
from tests.stored import stored_job
from tests.support.desk import DAY, as_, queries_of

__all__ = ["as_"]


def started(name, on):
    job = stored_job(name)
    save_job_head(Job.objects.get(pk=job.pk), {"job": {"start_on": on, "activities": []}}, seen_version=None)
    keep_needs(job.pk, *find_needs(job.pk, DAY.date()), clock.now())
    return job


@pytest.fixture
def dental(frozen_clock, db):
    frozen_clock.move_to(DAY)
    return started("larkmoor-dental", "2026-11-23")


def sites_of(client):
    return [(entry.job.key, entry.activity, entry.in_days) for entry in client.get(reverse("sites")).context["sites"]]


def test_a_site_says_what_is_done_there_today_and_leads_to_its_sheet(as_, dental):
    lead = as_("lead")
    assert sites_of(lead) == [(dental.key, "Track and studs", 0)]
    page = lead.get(reverse("sites")).content.decode()
    assert reverse("site_sheet", args=[dental.pk]) in page and dental.site_address.split("\n")[0] in page


def test_sites_stand_by_their_next_day(as_, dental):
    # Friday the 27th is two working days from Wednesday the 25th.
    other = started("merrow-finch-boutique", "2026-11-27")
    assert [entry[0] for entry in sites_of(as_("lead"))] == [dental.key, other.key]


def test_the_desk_is_led_to_its_jobs(as_, dental):
    assert as_("office").get(reverse("sites"))["Location"] == reverse("job_list")


def test_more_sites_ask_the_database_no_more(as_, dental):
    lead, path = as_("lead"), reverse("sites")
    few = queries_of(lead, path)
    started("brightwell-childcare", "2026-11-27")
    assert queries_of(lead, path) == few
