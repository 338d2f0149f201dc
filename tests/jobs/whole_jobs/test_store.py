import threading
from collections.abc import Callable
from copy import deepcopy
from datetime import date
from typing import Any

import pytest
from django.db import close_old_connections, connection, connections
from django.db.models import ProtectedError
from django.test.utils import CaptureQueriesContext
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.models import Material
from catalog.services.catalog_file import import_catalog
from jobs.core.schedule.job_spec import JobSpec
from jobs.deleted.services.deleted import Deletion
from jobs.jobs.models import Client, Job
from jobs.jobs.services.jobs import delete_job, export_job, job_of, list_jobs
from jobs.jobs.services.versions import ChangedMeanwhile
from jobs.walls.models import Override, TrimRun, Wall, WallPiece
from jobs.walls.services import walls
from jobs.walls.services.deleted_walls import delete_wall
from jobs.walls.services.overrides import clear_override, set_override
from jobs.walls.services.walls import copy_wall, store_wall, wall_document, wall_of
from jobs.whole_jobs.services import job_entries, job_store
from jobs.whole_jobs.services.job_entries import create_job, import_job, save_job_head
from tests.factories import documents
from tests.support.fixtures import NOW
from tests.support.wall_documents import save_document

pytestmark = pytest.mark.both_engines


def complaints(error: pytest.ExceptionInfo[DocumentError]) -> dict[str, str]:
    return {complaint.path: complaint.reason for complaint in error.value.complaints}


def test_a_job_comes_back_as_it_was_stored(small_job: Job) -> None:
    assert job_of("J-0007").to_core() == read(JobSpec, Reader(documents.job()))


def test_an_exported_job_imports_to_the_same_export(small_job: Job) -> None:
    exported = export_job(small_job)
    delete_job(small_job)
    assert export_job(import_job(exported, now=NOW)) == exported


length = st.integers(1, 10**12).map(lambda millionths: f"{millionths / 10**6:.6f} mm")
small = st.integers(25 * 10**6, 10**9).map(lambda millionths: f"{millionths / 10**6:.6f} mm")


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    straight=length,
    radius=length,
    angle=st.integers(1, 359 * 10**9).map(lambda billionths: f"{billionths / 10**9:.9f}"),
    kink=st.integers(-179 * 10**9, 179 * 10**9).map(lambda billionths: f"{billionths / 10**9:.9f}"),
    spacing=small,
    height=st.integers(1, 30_000 * 10**6).map(lambda millionths: f"{millionths / 10**6:.6f} mm"),
)
def test_any_wall_comes_back_to_the_millionth(
    small_job: Job, straight: str, radius: str, angle: str, kink: str, spacing: str, height: str
) -> None:
    pieces = [
        {"shape": "straight", "length": straight, "kink": kink},
        {"shape": "arc", "turn": "left", "radius": radius, "angle": angle},
    ]
    document = documents.job(walls=0)
    document["walls"] = [documents.wall(pieces=pieces, stud_spacing=spacing, height=height)]
    job = import_job(document, now=NOW, on_known="replace")
    assert job_of(job.key).to_core() == read(JobSpec, Reader(document))
    assert write(job.to_core()) == export_job(import_job(export_job(job), now=NOW, on_known="replace"))


def test_a_job_takes_as_many_queries_for_many_walls_as_for_few(small_job: Job) -> None:
    with CaptureQueriesContext(connection) as few:
        job_of("J-0007").to_core()
    import_job(documents.job(walls=6), now=NOW, on_known="replace")
    with CaptureQueriesContext(connection) as many:
        assert len(job_of("J-0007").to_core().walls) == 6
    assert len(many) == len(few)


def test_materials_nobody_knows_are_told_with_their_paths(small_catalog: None) -> None:
    document = documents.job(walls=2)
    document["walls"][1]["left"]["layers"][1]["board"] = "GB-9"
    document["walls"][0]["track"] = "BOARD"
    document["walls"][1]["kit"] = {"tape": "GLUE"}
    document["job"]["dates"][0]["material"] = "LATER"
    with pytest.raises(DocumentError) as error:
        import_job(document, now=NOW)
    paths = complaints(error)
    assert set(paths) == {
        "walls[1].left.layers[1].board",
        "walls[0].track",
        "walls[1].kit.tape",
        "job.dates[0].material",
    }
    assert '"GB-9" is not a material in the catalog' in paths["walls[1].left.layers[1].board"]
    assert paths["walls[0].track"] == '"BOARD" is gypsum board, and curvable track is needed here'
    assert not Job.objects.exists()
    assert not Client.objects.exists()


@pytest.mark.parametrize(
    ("change", "path"),
    [
        ({"pieces": [{"shape": "straight", "length": 0}]}, "pieces[0].length"),
        ({"pieces": [{"shape": "straight", "length": "0.0000001 mm"}]}, "pieces[0].length"),
        ({"pieces": [{"shape": "straight", "length": 9, "kink": 180}]}, "pieces[0].kink"),
        (
            {"pieces": [{"shape": "arc", "turn": "left", "radius": "8.3333334 mm", "chord": "16.6666668 mm"}]},
            "pieces[0].chord",
        ),
        ({"stud_depth": 0}, "stud_depth"),
        ({"height": "0.0000001 mm"}, "height"),
        (
            {"openings": [{"name": "Slit", "centre_at": 60, "width": "0.0000001 mm", "height": 9}]},
            "openings[0].width",
        ),
        ({"overrides": [documents.wall()["overrides"][0]] * 2}, "overrides"),
    ],
)
def test_a_wall_that_cannot_stand_is_refused_by_its_entry(small_job: Job, change: dict[str, Any], path: str) -> None:
    with pytest.raises(DocumentError) as error:
        save_document(small_job, documents.wall("new-wall") | change, seen_version=None)
    assert set(complaints(error)) == {path}
    assert not Wall.objects.filter(key="new-wall").exists()


def test_a_fault_half_way_leaves_the_wall_as_it_was(small_job: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    before = export_job(small_job)

    def fail(place: int, trim: object) -> None:
        raise RuntimeError("the disk is full")

    changed = documents.wall("screen-1", pieces=[{"shape": "straight", "length": 60}])
    monkeypatch.setattr(walls, "trim_figures", fail)
    with pytest.raises(RuntimeError):
        save_document(small_job, changed, seen_version=1)
    assert export_job(job_of("J-0007")) == before
    assert wall_of("J-0007", "screen-1").version == 1
    monkeypatch.undo()
    save_document(small_job, changed, seen_version=1)
    assert export_job(job_of("J-0007")) != before


def test_saving_over_a_newer_version_is_refused(small_job: Job) -> None:
    document = documents.wall("screen-1")
    save_document(small_job, document | {"name": "By the first"}, seen_version=1)
    with pytest.raises(ChangedMeanwhile, match='"By the first" is now version 2, and you changed version 1'):
        save_document(small_job, document | {"name": "By the second"}, seen_version=1)
    assert wall_of("J-0007", "screen-1").name == "By the first"


def test_without_the_version_seen_the_second_overwrites_the_first(small_job: Job) -> None:
    spec = wall_of("J-0007", "screen-1").to_core()
    store_wall(small_job, spec, seen_version=None)
    store_wall(small_job, spec, seen_version=None)
    assert wall_of("J-0007", "screen-1").version == 3


def test_saving_a_wall_that_was_deleted_says_so(small_job: Job) -> None:
    delete_wall(wall_of("J-0007", "screen-1"), deletion=Deletion("Bram Sawtry", NOW), seen_version=1)
    with pytest.raises(ChangedMeanwhile, match="has been deleted"):
        save_document(small_job, documents.wall("screen-1"), seen_version=1)
    assert not Wall.objects.exists()


def together(*calls: Callable[[], object]) -> list[str]:
    gate, outcomes = threading.Barrier(len(calls)), []

    def run(call: Callable[[], object]) -> None:
        close_old_connections()
        gate.wait()
        try:
            call()
            outcomes.append("stored")
        except ChangedMeanwhile:
            outcomes.append("told")
        finally:
            connections.close_all()

    threads = [threading.Thread(target=run, args=(call,)) for call in calls]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return sorted(outcomes)


@pytest.mark.faults
@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize(("guarded", "outcome"), [(True, ["stored", "told"]), (False, ["stored", "stored"])])
def test_of_two_who_save_at_once_one_is_told(guarded: bool, outcome: list[str]) -> None:
    import_catalog(documents.catalog())
    job = import_job(documents.job(), now=NOW)
    for _ in range(5):
        seen = wall_of(job.key, "screen-1").version if guarded else None

        def save(name: str, seen: int | None = seen) -> None:
            wall = wall_of(job.key, "screen-1")
            document = wall_document(wall) | {"name": name, "pieces": [{"shape": "straight", "length": name}]}
            spec = walls.wall_from_document(document)
            store_wall(wall.job, spec, seen_version=seen)

        assert together(lambda: save("100 mm"), lambda: save("200 mm")) == outcome
        stored = wall_document(wall_of(job.key, "screen-1"))
        assert stored["pieces"][0]["length"] == stored["name"], "the wall is one person's, not half of each"


def test_a_new_job_is_given_the_next_key(small_job: Job) -> None:
    document = documents.job()
    del document["job"]["key"]
    assert create_job(deepcopy(document), now=NOW).key == "J-0008"
    assert create_job(deepcopy(document), now=NOW).key == "J-0009"


def test_a_key_taken_at_the_same_moment_is_passed_over(small_job: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    document = documents.job()
    del document["job"]["key"]
    offered = iter(["J-0007", "J-0007", "J-0010"])
    monkeypatch.setattr(job_entries, "next_job_key", lambda: next(offered))
    assert create_job(document, now=NOW).key == "J-0010"


def test_without_a_second_try_the_taken_key_is_refused(small_job: Job, monkeypatch: pytest.MonkeyPatch) -> None:
    document = documents.job()
    del document["job"]["key"]
    monkeypatch.setattr(job_entries, "next_job_key", lambda: "J-0007")
    monkeypatch.setattr(job_entries, "TRIES_FOR_A_KEY", 1)
    with pytest.raises(DocumentError, match='job.key: there is a job "J-0007" already'):
        create_job(document, now=NOW)


def test_a_key_that_slips_past_the_look_is_refused_by_the_table(
    small_job: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    spec = read(JobSpec, Reader(documents.job()))
    with pytest.raises(job_store.KeyTaken):
        job_store._new_job(spec, NOW, None)
    assert Job.objects.count() == 1


def test_an_import_over_a_known_key_is_refused_unless_it_replaces(small_job: Job) -> None:
    document = documents.job(walls=2)
    with pytest.raises(DocumentError, match=r"^job\.key: there is a job"):
        import_job(document, now=NOW)
    job = import_job(document, now=NOW, on_known="replace")
    assert job.pk == small_job.pk
    assert job.walls.count() == 2


def test_replacing_a_job_takes_away_what_it_no_longer_has(small_job: Job) -> None:
    document = documents.job(walls=0)
    document["job"] = {"key": "J-0007", "title": "Bare"}
    assert export_job(import_job(document, now=NOW, on_known="replace")) == write(read(JobSpec, Reader(document)))
    assert not WallPiece.objects.exists()
    assert not Override.objects.exists()


def test_two_activities_of_one_key_are_refused(small_catalog: None) -> None:
    document = documents.job()
    document["job"]["activities"] *= 2
    with pytest.raises(DocumentError, match=r'job\.activities: "hang_boards" is given twice'):
        import_job(document, now=NOW)


def test_a_known_client_is_used_again_and_one_with_other_particulars_is_not(small_job: Job) -> None:
    import_job(documents.job("J-0008"), now=NOW)
    assert Client.objects.count() == 1
    other = documents.job("J-0009")
    other["client"]["phone"] = "555 0199"
    import_job(other, now=NOW)
    assert job_of("J-0007").client.phone == "555 0100"
    assert Client.objects.count() == 2


def test_the_head_of_a_job_changes_and_its_walls_stay(small_job: Job) -> None:
    save_job_head(small_job, {"job": {"start_on": "2027-02-01", "crew": 4}}, seen_version=1, note="gate code")
    job = job_of("J-0007")
    assert (job.start_on, job.crew, job.note, job.version) == (date(2027, 2, 1), 4, "gate code", 2)
    assert job.to_core().walls == read(JobSpec, Reader(documents.job())).walls
    assert [entry.start_on for entry in job.history.order_by("history_id")][-1] == date(2027, 2, 1)
    with pytest.raises(ChangedMeanwhile):
        save_job_head(small_job, {"job": {"crew": 5}}, seen_version=1)
    with pytest.raises(DocumentError, match=r"^job\.key: "):
        save_job_head(small_job, {"job": {"key": "J-1"}}, seen_version=2)


def test_two_walls_of_a_job_have_two_names(small_job: Job, small_catalog: None) -> None:
    named = {"name": "Reception screen"}
    with pytest.raises(DocumentError) as error:
        save_document(small_job, documents.wall("second") | named, seen_version=None)
    message = '"Reception screen" is the name of the wall "screen-1" too; name each wall of a job differently'
    assert complaints(error) == {"name": message}
    save_document(small_job, documents.wall("second"), seen_version=None)
    with pytest.raises(DocumentError, match='name of the wall "screen-1" too'):
        save_document(small_job, documents.wall("second") | named, seen_version=1)
    save_document(small_job, documents.wall("screen-1"), seen_version=1)


def test_a_job_with_a_name_twice_is_refused_by_the_path_of_each(small_catalog: None) -> None:
    document = documents.job(walls=4)
    document["walls"][1]["name"] = document["walls"][3]["name"] = document["walls"][0]["name"]
    with pytest.raises(DocumentError) as error:
        import_job(document, now=NOW)
    assert set(complaints(error)) == {"walls[1].name", "walls[3].name"}
    assert all('"screen-1" (walls[0])' in complaint for complaint in complaints(error).values())
    assert not Job.objects.exists()


def test_each_copy_of_a_wall_has_a_name_of_its_own(small_job: Job) -> None:
    wall = wall_of("J-0007", "screen-1")
    names = [copy_wall(wall).name for _ in range(3)]
    assert names == ["Reception screen, copy", "Reception screen, copy 2", "Reception screen, copy 3"]
    wall.name = "x" * 200
    wall.save()
    assert len({copy_wall(wall).name for _ in range(2)}) == 2


def test_a_copy_is_the_same_wall_without_the_decisions(small_job: Job) -> None:
    copy = copy_wall(wall_of("J-0007", "screen-1"))
    first, second = wall_document(wall_of("J-0007", "screen-1")), wall_document(copy)
    assert (copy.key, copy.name, second["overrides"]) == ("screen-1-2", "Reception screen, copy", [])
    assert second["room"] is None  # where it stands is the first one's own
    same = set(first) - {"key", "name", "overrides", "room"}
    assert {name: first[name] for name in same} == {name: second[name] for name in same}


def test_a_wall_of_a_taken_key_is_not_added_over_it(small_job: Job) -> None:
    with pytest.raises(DocumentError, match='key: "screen-1" is another wall'):
        save_document(small_job, documents.wall("screen-1"), seen_version=None)


def test_a_decision_needs_a_person_and_a_reason(small_job: Job) -> None:
    wall = wall_of("J-0007", "screen-1")
    for missing in ("reason", "by"):
        words = {"reason": "done before", "by": "R. Sallow"} | {missing: "  "}
        with pytest.raises(DocumentError, match=f"^{missing}: must not be empty"):
            set_override(small_job, wall, key="a/check", on=date(2026, 10, 5), **words)
    assert wall_of("J-0007", "screen-1").version == 1


def test_a_decision_gives_way_to_a_later_one_and_stays_in_the_history(small_job: Job) -> None:
    wall = wall_of("J-0007", "screen-1")
    for value in ("14", "15"):
        set_override(
            small_job, wall, key="screen-1/board", reason="sheets in stock", by="R. Sallow",
            on=date(2026, 10, 5), value=value, original="13.2",
        )  # fmt: skip
    row = Override.objects.get(key="screen-1/board")
    assert [entry.value for entry in row.history.order_by("history_id")] == [14, 15]
    assert [override.value for override in wall.to_core().overrides] == [12.5, 15.0]
    assert wall_of("J-0007", "screen-1").version == 3


def test_a_decision_taken_back_is_gone_and_in_the_history(small_job: Job) -> None:
    assert clear_override(small_job, None, "tape", seen_version=1)
    assert not clear_override(small_job, None, "tape")
    assert small_job.to_core().overrides == ()
    assert Override.history.filter(key="tape", history_type="-").count() == 1


@pytest.mark.parametrize("value", ["NaN", "-1", "1e308", "1_0", "10000001"])
def test_no_number_is_no_override(small_job: Job, value: str) -> None:
    with pytest.raises(DocumentError, match="^value: "):
        set_override(small_job, None, key="k", reason="r", by="b", on=date(2026, 10, 5), value=value)


def test_storing_the_same_wall_again_writes_no_history_of_its_parts(small_job: Job) -> None:
    before = [model.history.count() for model in (WallPiece, TrimRun, Override)]
    save_document(small_job, wall_document(wall_of("J-0007", "screen-1")), seen_version=1)
    assert [model.history.count() for model in (WallPiece, TrimRun, Override)] == before


@pytest.mark.parametrize("code", ["TRACK", "STUD", "BOARD", "BASE", "SCREW-2"])
def test_a_material_a_wall_uses_cannot_be_deleted(small_job: Job, code: str) -> None:
    with pytest.raises(ProtectedError):
        Material.objects.get(code=code).delete()
    assert Material.objects.filter(code=code).exists()


def test_jobs_are_found_by_key_title_or_client(small_job: Job) -> None:
    assert [job.wall_count for job in list_jobs("tern RECEPTION")] == [1]
    assert list_jobs("nobody") == []
