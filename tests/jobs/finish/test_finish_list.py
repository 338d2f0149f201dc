"""The finish list: who may say what, what holds a job from being done, and what others see of it."""

from datetime import timedelta
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from PIL import Image

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.refusal import Refused
from jobs.finish.models import FinishItem, FinishPhoto
from jobs.finish.services.finish_list import add_item, add_of_client, mend_item, open_again
from jobs.needs.services.schedule_refresh import find_needs, keep_needs
from jobs.schedule.models import ActualDays, PlannedActivityDays
from jobs.schedule.services.actual_days import begin_activity, end_activity, last_planned
from quoting.life.services.reading import life_of_job
from quoting.platform.people.signatures import Signature
from tests.support.desk import as_
from tests.support.worked import NOW, TODAY, small_job

__all__ = ["as_"]
pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
LEAD = Signature("Ines Quarrell", TODAY)
CLIENT = Signature("Tern Street Clinic", TODAY)


@pytest.fixture
def job(frozen_clock, make_person, settings, tmp_path):
    frozen_clock.move_to(NOW)
    settings.MEDIA_ROOT = tmp_path
    make_person("estimator", "mender")
    found = small_job()
    keep_needs(found.pk, *find_needs(found.pk, TODAY), NOW)
    return found


def document(**more):
    due = (TODAY + timedelta(3)).isoformat()
    return {"request_key": "one", "what": "Dent", "wall": "screen", "who": "mender", "due": due, **more}


def added(job, **more):
    return add_item(job, document(**more), LEAD, now=NOW)[0]


def picture():
    out = BytesIO()
    Image.new("RGB", (40, 30), "white").save(out, "JPEG")
    return out.getvalue()


def last_of(job):
    return last_planned(PlannedActivityDays.objects.filter(job=job)).key


def test_an_item_sent_twice_is_one_and_its_key_enters_nothing_else(job):
    assert [added(job).pk for _ in range(2)] == [FinishItem.objects.get().pk] * 2
    with pytest.raises(DocumentError, match="something else already"):
        added(job, what="Scratch")


@pytest.mark.parametrize(
    ("wrong", "why"),
    [
        ({"who": "Nobody Known"}, "nobody of the firm; it has mender"),
        ({"due": "2026-11-24"}, "Tue 24 Nov 2026 has passed"),
        ({"wall": "bar"}, "it has screen"),
        ({"what": " "}, "what"),
        ({"what": "x" * 301}, "300"),
    ],
)
def test_a_wrong_entry_is_named_and_nothing_is_kept(job, wrong, why):
    with pytest.raises(DocumentError, match=why):
        added(job, **wrong)
    assert not FinishItem.objects.exists()


def test_the_last_activity_does_not_end_while_an_item_is_open(job):
    key, item = last_of(job), added(job)
    begin_activity(job, key, LEAD)
    with pytest.raises(Refused, match="1 item is open on the finish list") as refusal:
        end_activity(job, key, LEAD)
    assert refusal.value.place == ("finish_list", str(job.pk))
    mend_item(item, {}, LEAD)
    assert end_activity(job, key, LEAD)[1]
    # Others end though items are open.
    open_again(item)
    begin_activity(job, "layout", LEAD)
    assert end_activity(job, "layout", LEAD)[1]


def test_the_refusal_to_end_leads_to_the_list(as_, job):
    key, lead = last_of(job), as_("lead")
    added(job)
    begin_activity(job, key, LEAD)
    sent = {"activity": key, "do": "end"}
    shown = lead.post(reverse("activity_actual", args=[job.pk]), sent, follow=True).content.decode()
    assert f'1 item is open on the finish list. Mend them first. <a href="/jobs/{job.pk}/site/finish/">' in shown


def test_a_job_that_was_done_is_not_done_while_something_found_later_is_open(job, frozen_clock):
    begin_activity(job, last_of(job), LEAD)
    end_activity(job, last_of(job), LEAD)
    assert life_of_job(job, TODAY).life.station == "done"
    item = added(job)
    life = life_of_job(job, TODAY).life
    assert life.station == "on_site" and "1 on the finish list" in life.beside
    step = next(step for step in life.steps if step.act == "mend")
    assert (step.text, step.by) == ("Mend 1 item of the finish list", TODAY + timedelta(3))
    later = TODAY + timedelta(2)
    mend_item(item, {"words": "Filled"}, Signature("Ines Quarrell", later))
    done = next(passed for passed in life_of_job(job, later).life.passed if passed.station == "done")
    assert done.on == later  # the day the last item was mended, after the last activity ended


def test_the_client_adds_once_work_has_begun_and_the_same_once(job):
    said = {"what": "Scratch", "wall": "screen"}
    with pytest.raises(Refused, match="not begun"):
        add_of_client(job, said, CLIENT)
    ActualDays.objects.create(job=job, key="layout", began_on=TODAY, began_by="Ines Quarrell")
    assert add_of_client(job, said, CLIENT).pk == add_of_client(job, said, CLIENT).pk
    steps = [step.text for step in life_of_job(job, TODAY).life.steps]
    assert "Say who mends 1 item of the client's" in steps


def test_a_closed_job_takes_nothing(job):
    item = added(job)
    job.closed_on = TODAY
    job.save()
    for act in (lambda: added(job, request_key="two"), lambda: mend_item(item, {}, LEAD), lambda: open_again(item)):
        with pytest.raises(Refused, match="closed"):
            act()


def test_what_is_late_stands_on_today_of_lead_and_office(as_, job, frozen_clock):
    added(job)
    begin_activity(job, "layout", LEAD)
    frozen_clock.move_to(NOW + timedelta(days=7))
    assert "Mend 1 item of the finish list" in as_("office").get("/today/").content.decode()
    assert 'Finish list</a>: 1, <strong class="late-words">late' in as_("lead").get("/today/").content.decode()


def test_on_the_page_it_is_entered_with_a_photo_changed_and_ticked(as_, job):
    lead, address = as_("lead"), reverse("finish_list", args=[job.pk])
    file = SimpleUploadedFile("p.jpg", picture(), "image/jpeg")
    assert lead.post(address, document(file=file)).status_code == 302
    item, photo = FinishItem.objects.get(), FinishPhoto.objects.get()
    assert lead.get(reverse("finish_photo", args=[photo.pk]))["Content-Type"] == "image/jpeg"
    form = lead.get(reverse("finish_item", args=[item.pk])).context["form"]
    sent = {**document(what="Dent, hinge side"), "seen_version": form["seen_version"].value()}
    assert lead.post(reverse("finish_item", args=[item.pk]), sent).status_code == 302
    lead.post(reverse("finish_mended", args=[item.pk]), {"words": "Filled"})
    item.refresh_from_db()
    assert (item.what, item.mended_on, item.answer) == ("Dent, hinge side", TODAY, "Filled")
    assert "All 1 mended" in lead.get(address).content.decode()


def test_a_wrong_entry_on_the_page_is_said_at_its_field(as_, job):
    response = as_("lead").post(reverse("finish_list", args=[job.pk]), document(due="2026-11-01"))
    assert response.status_code == 422 and "By: Sun 1 Nov 2026 has passed" in response.content.decode()


def test_by_the_api_it_is_read_entered_changed_and_mended(client, make_person, job):
    client.force_login(make_person("office"))
    put = {"content_type": "application/json"}
    made = client.post(f"/api/jobs/{job.key}/finish", document(), **put)
    assert made.status_code == 201 and made.json()["wall"] == "screen"
    address = f"/api/finish/{made.json()['id']}"
    entry = {name: text for name, text in document(what="Chip").items() if name != "request_key"}
    assert client.put(address, entry, headers={"If-Match": '"0"'}, **put).status_code == 412
    changed = client.put(address, entry, headers={"If-Match": made["ETag"]}, **put)
    assert changed.json()["what"] == "Chip"
    assert client.post(f"{address}/mended", {"words": "Filled"}, **put).json()["mended_by"] == "the-office"
    assert client.delete(f"{address}/mended").status_code == 204
    assert client.get(f"/api/jobs/{job.key}/finish").json()["items"][0]["mended_on"] is None


def test_what_was_said_of_an_item_stands_in_the_history_of_its_job(as_, job):
    mend_item(added(job), {"words": "Filled"}, LEAD)
    shown = as_("office").get(reverse("job_history", args=[job.pk])).content.decode()
    assert "finish item “Dent”" in shown
