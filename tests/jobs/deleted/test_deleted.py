"""What was deleted and is put back, or is gone after thirty days."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from django.urls import reverse

from catalog.core.ground.refusal import Refused
from jobs.core.measure.brought_in import BroughtIn
from jobs.core.measure.dimension_status import DimensionStatus, MarkedDimension
from jobs.core.measure.findings import Override
from jobs.deleted.models import Deleted
from jobs.deleted.services.deleted import Deletion, forget_deleted, put_back
from jobs.jobs.models import Job
from jobs.orders.services.drafting import throw_away
from jobs.walls.models import Wall, WallPhoto
from jobs.walls.services.deleted_walls import delete_wall
from jobs.walls.services.walls import store_wall
from jobs.whole_jobs.services.job_entries import import_job, save_job_head
from tests.factories import documents
from tests.jobs.items.test_job_items import ITEMS
from tests.jobs.items.test_job_items import job as with_items
from tests.jobs.orders.test_orders import BY, drafted, job, mill
from tests.stored import stored_job
from tests.support.desk import as_
from tests.support.fixtures import NOW

__all__ = ["as_", "job", "mill", "with_items"]
pytestmark = [pytest.mark.django_db, pytest.mark.both_engines]
DELETION = Deletion("Bram Sawtry", NOW)


@pytest.fixture
def decided(small_job):
    """A wall with a decision and a mark that came with a file and were confirmed here."""
    wall = small_job.walls.get()
    spec, came = wall.to_core(), BroughtIn("R. Sallow", date(2026, 9, 1), "M. Linden", date(2026, 9, 2))
    bend = Override(
        "screen-1/left/layer-1/piece-1/bend", "Held in a mock-up.", "A. Marsh", "2026-08-01", brought_in=came
    )
    mark = MarkedDimension("height[0].height", DimensionStatus("measured", "A. Marsh", date(2026, 8, 1), came))
    return store_wall(small_job, replace(spec, overrides=(bend,), taken=replace(spec.taken, marks=(mark,))))


def test_a_wall_put_back_is_the_wall_that_was_deleted(decided):
    job, before = decided.job, decided.to_core()
    row = delete_wall(decided, deletion=DELETION)
    assert not job.walls.exists()
    put_back(row, Deletion("M. Linden", NOW))
    assert job.walls.get().to_core() == before
    assert Deleted.objects.get().put_back_by_name == "M. Linden"


def test_put_back_twice_it_is_there_once(decided):
    row = delete_wall(decided, deletion=DELETION)
    assert put_back(row, DELETION) == put_back(row, DELETION)
    assert Wall.objects.count() == 1


def test_photos_go_back_to_their_wall(decided):
    about = {
        "kind": "photo",
        "caption": "The corner",
        "file_name": "a.jpg",
        "sha256": "a" * 64,
        "size_bytes": 9,
        "added_by": "A. Marsh",
    }
    size = {"width_px": 9, "height_px": 9, "added_at": NOW}
    WallPhoto.objects.create(job=decided.job, wall=decided, **about, **size)
    put_back(delete_wall(decided, deletion=DELETION), DELETION)
    assert WallPhoto.objects.get().wall == Wall.objects.get()


@pytest.mark.parametrize(("entry", "says"), [("key", "another wall with the key"), ("name", "has its name now")])
def test_a_wall_whose_place_is_taken_is_refused_in_words(decided, entry, says):
    job, spec = decided.job, replace(decided.to_core(), overrides=())
    row = delete_wall(decided, deletion=DELETION)
    store_wall(job, replace(spec, **{"key": "another", "name": "Another", entry: getattr(spec, entry)}))
    with pytest.raises(Refused, match=says):
        put_back(row, DELETION)
    assert Deleted.objects.get().put_back_at is None and job.walls.count() == 1


def test_a_wall_left_out_of_a_file_that_replaces_its_job_can_be_put_back(small_job):
    document = documents.job()
    document["walls"] = []
    import_job(document, now=NOW, on_known="replace")
    put_back(Deleted.objects.get(), DELETION)
    assert Job.objects.get().walls.get().key == "screen-1"


def test_after_thirty_days_it_is_gone(decided):
    row = delete_wall(decided, deletion=DELETION)
    forget_deleted(NOW + timedelta(days=30) - timedelta(seconds=1))
    assert Deleted.objects.exists()
    with pytest.raises(Refused, match="more than thirty days ago"):
        put_back(row, Deletion("M. Linden", NOW + timedelta(days=30)))
    forget_deleted(NOW + timedelta(days=30))
    assert not Deleted.objects.exists()


def test_an_item_put_back_is_the_item_that_was_deleted(with_items):
    before = with_items.to_core().items
    save_job_head(with_items, {"job": {"items": ITEMS[:1]}}, seen_version=None, deletion=DELETION)
    row = Deleted.objects.get()
    assert row.name == "1 × Door set"
    put_back(row, DELETION)
    assert Job.objects.get(pk=with_items.pk).to_core().items == before


def test_a_draft_of_an_order_put_back_asks_for_the_same_again(job, mill):
    order = drafted(job, mill)
    wanted = order.lines.get().quantity
    throw_away(order, reason="", **BY)
    put_back(Deleted.objects.get(), Deletion("R. Sallow", BY["now"]))
    order.refresh_from_db()
    assert (order.state, order.lines.get().quantity, order.called_off_reason) == ("draft", wanted, "")


def test_a_draft_whose_item_stands_on_another_order_is_refused(job, mill):
    order = drafted(job, mill)
    throw_away(order, reason="", **BY)
    drafted(job, mill, "another")
    with pytest.raises(Refused, match="is on another order"):
        put_back(Deleted.objects.get(), Deletion("R. Sallow", BY["now"]))
    order.refresh_from_db()
    assert order.state == "called_off"


def test_the_page_offers_undo_after_deleting_and_the_history_names_both(as_):
    wall, desk = stored_job("larkmoor-dental").walls.get(), as_("estimator")
    address = reverse("wall_delete", args=[wall.job_id, wall.key])
    page = desk.post(address, {"seen_version": wall.version}, follow=True).content.decode()
    row = Deleted.objects.get()
    assert f'action="{reverse("job_put_back", args=[wall.job_id, row.pk])}"' in page
    listed = desk.get(reverse("job_deleted", args=[wall.job_id])).content.decode()
    assert "Reception screen" in listed and "Put back" in listed
    page = desk.post(reverse("job_put_back", args=[wall.job_id, row.pk]), follow=True).content.decode()
    assert "Reception screen is back as it was." in page and Wall.objects.exists()
    history = desk.get(reverse("job_history", args=[wall.job_id]), {"save": "all"}).content.decode()
    assert "“Reception screen” deleted" in history and "“Reception screen” entered" in history


def test_a_program_deletes_lists_and_puts_back(office, small_job):
    wall = small_job.walls.get()
    gone = office("DELETE", f"/api/jobs/{small_job.key}/walls/{wall.key}", If_Match=f'"{wall.version}"')
    assert gone.status_code == 204
    listed = office.get(f"/api/jobs/{small_job.key}/deleted").json()["deleted"]
    assert [(entry["kind"], entry["key"]) for entry in listed] == [("wall", "screen-1")]
    back = office.post(gone["Location"], {})
    assert (back.status_code, back.json()["key"]) == (200, "screen-1")
    assert office.get(f"/api/jobs/{small_job.key}/deleted").json() == {"deleted": []}
