"""What a job file says stays its author's: who brought it in stands beside, and it releases nothing by itself."""

import copy
import json
from datetime import date
from io import StringIO

import pytest
from django.core.management import CommandError, call_command
from django.urls import reverse

from jobs.core.ordering.order_timing import checked_on
from jobs.jobs.models import Job
from jobs.walls.models import DimensionMark, Override, Wall
from jobs.walls.services.brought_in import confirm_brought_in
from quoting.job_files.services.job_files import export_job_file, import_job_file, work_up_job
from quoting.platform.people.models import Role
from quoting.platform.people.signatures import Signature
from quoting.pricing.models import ChecklistAnswer
from tests.documents import document, starter
from tests.stored import stored_book
from tests.support.wall_posts import form_of
from tests.support.worked import NOW, TODAY

pytestmark = pytest.mark.django_db
HERE = Signature("Cleo Anders", date(2026, 12, 1))
PLACES = ["pieces[0].chord", "pieces[0].rise", "openings[0].centre_at", "openings[0].width", "openings[0].height",
          "openings[0].sill"]  # fmt: skip
MARKS = [{"dimension": place, "how": "confirmed", "by": "Tove Lind", "on": "2026-11-10"} for place in PLACES]
RELEASE = {"key": "reception-screen/trim-1/release/template", "reason": "A bought length.", "by": "Tove Lind",
           "on": "2026-11-10"}  # fmt: skip


def file_of_elsewhere():
    file = copy.deepcopy(document("jobs/larkmoor-dental.json"))
    file["walls"][0] |= {"marks": MARKS, "overrides": [RELEASE]}
    file["pricing"]["checklist"] = [
        {"item": "Delivery", "answer": "dismissed", "reason": "We fetch it.", "by": "Tove Lind", "on": "2026-11-10"}
    ]
    return file


@pytest.fixture
def bo(make_person):
    stored_book(starter(), "starter")
    return make_person(Role.ESTIMATOR)


@pytest.fixture
def job(bo) -> Job:
    return import_job_file(file_of_elsewhere(), now=NOW, by=bo)


def held(job):
    wall = work_up_job(Job.objects.get(pk=job.pk), TODAY).walls[0]
    return [hold.finding.sentence for hold in wall.holds if hold.is_open]


@pytest.mark.both_engines
def test_marks_decisions_and_dismissals_keep_their_author_and_day(job):
    rows = [*DimensionMark.objects.all(), *Override.objects.all(), ChecklistAnswer.objects.get(item="Delivery")]
    assert len(rows) == len(PLACES) + 2
    assert {(row.by, row.on) for row in rows} == {("Tove Lind", date(2026, 11, 10))}
    assert {(row.brought_by, row.brought_on) for row in rows} == {("the-estimator", TODAY)}


def test_the_file_goes_out_again_as_it_came(job, bo):
    first = export_job_file(job, TODAY)
    assert first["walls"][0]["marks"] == MARKS
    again = json.loads(json.dumps(first, default=str))
    import_job_file(again, now=NOW, by=bo, on_known="replace")
    assert export_job_file(Job.objects.get(pk=job.pk), TODAY) == first


def test_a_mark_of_a_file_releases_nothing_until_somebody_here_confirms_it(job):
    """Six dimensions feed the base on either face: chord, rise, and the four of its door."""
    assert len(held(job)) == 2 * len(PLACES)
    assert held(job)[0] == (
        "Piece 1, chord, confirmed by Tove Lind on Tue 10 Nov 2026, as the file says; brought in by the-estimator on "
        "Wed 25 Nov 2026: somebody here confirms it before this is ordered."
    )
    assert checked_on(work_up_job(job, TODAY).walls, "BASE-514-FLEX") is None
    assert confirm_brought_in(job.walls.get(), seen_version=None, signature=HERE) == len(PLACES) + 1
    assert held(job) == []
    assert checked_on(work_up_job(Job.objects.get(pk=job.pk), TODAY).walls, "BASE-514-FLEX") == date(2026, 11, 10)


def test_the_control_a_mark_made_here_holds_nothing_back(bo):
    """The same file, kept by nobody in particular, as a job of this house."""
    assert held(import_job_file(file_of_elsewhere(), now=NOW)) == []


@pytest.mark.both_engines
def test_saving_the_wall_keeps_how_its_marks_and_decisions_came(client, job, bo):
    client.force_login(bo)
    page = reverse("wall", args=[job.pk, job.walls.get().key])
    assert client.post(page, form_of(job.walls.get(), name="Front screen")).status_code == 302
    assert DimensionMark.objects.filter(brought_by="the-estimator").count() == len(PLACES)
    assert Override.objects.get().brought_by == "the-estimator"


def test_one_tap_on_the_page_confirms_them_and_history_tells_all_three(client, job, bo, make_person):
    client.force_login(make_person(Role.OFFICE))
    wall = job.walls.get()
    page = reverse("wall", args=[job.pk, wall.key])
    text = "Tove Lind, Tue 10 Nov, as the file says; brought in by the-estimator on Wed 25 Nov"
    assert text in client.get(page).content.decode()
    client.post(reverse("wall_confirm", args=[job.pk, wall.key]), {"seen_version": wall.version})
    assert "From the file" not in client.get(page).content.decode()
    assert {(entry.by, entry.confirmed_by) for entry in DimensionMark.objects.all()} == {("Tove Lind", "the-office")}
    message = client.get(reverse("job_history", args=[job.pk]), {"save": "all"}).content.decode()
    assert all(words in message for words in ("Brought in by", "Confirmed here by", "Tove Lind", "the-office"))


@pytest.mark.both_engines
def test_a_wall_changed_meanwhile_is_not_confirmed_unseen(client, job, make_person):
    client.force_login(make_person(Role.OFFICE))
    wall = job.walls.get()
    client.post(reverse("wall_confirm", args=[job.pk, wall.key]), {"seen_version": wall.version + 1})
    assert not DimensionMark.objects.exclude(confirmed_on=None).exists()


def test_the_api_confirms_them_and_says_how_each_came(job, office):
    wall = Wall.objects.get()
    path = f"/api/jobs/{job.key}/walls/{wall.key}"
    tag = office.get(path)["ETag"]
    answer = office("POST", f"{path}/confirm", None, If_Match=tag)
    assert (answer.status_code, answer.json()["marks"]) == (200, MARKS)
    assert not DimensionMark.objects.filter(confirmed_on=None).exists()


def test_the_command_brings_a_file_in_for_somebody_and_confirms_only_when_told(bo, tmp_path):
    path, o = tmp_path / "job.json", StringIO()
    path.write_text(json.dumps(file_of_elsewhere(), default=str), encoding="utf-8")
    call_command("bring_in", path, by="the-estimator", stdout=o)
    assert f"brought in by the-estimator, {len(PLACES) + 1} marks and decisions wait" in o.getvalue()
    assert {(row.by, row.brought_by, row.confirmed_by) for row in DimensionMark.objects.all()} == {
        ("Tove Lind", "the-estimator", "")
    }
    call_command("bring_in", path, by="the-estimator", replace=True, confirm=True, stdout=o)
    assert {row.confirmed_by for row in DimensionMark.objects.all()} == {"the-estimator"}


def test_the_command_brings_nothing_in_for_nobody_or_for_the_field(bo, make_person, tmp_path):
    make_person(Role.LEAD)
    for name in ("nobody", "the-lead"):
        with pytest.raises(CommandError, match="may bring a job in"):
            call_command("bring_in", tmp_path / "job.json", by=name)
    with pytest.raises(CommandError, match="cannot be read"):
        call_command("bring_in", tmp_path / "none.json", by="the-estimator")
