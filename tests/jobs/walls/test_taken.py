"""What was taken on site, from its document to the rows and back, with its history."""

from datetime import date

import pytest

from catalog.core.ground.document_reader import DocumentError
from jobs.jobs.models import Job
from jobs.walls.models import ArcReading, BaselineOffset, DimensionMark, SiteSurvey
from jobs.walls.services.walls import copy_wall, wall_document
from quoting.platform.people.signatures import Signature
from tests.factories import documents
from tests.support.wall_documents import save_document

pytestmark = pytest.mark.both_engines
SIGNED = Signature("Ines Marr", date(2026, 11, 3))
MARKS = [
    {"dimension": "pieces[0].chord", "how": "measured", "by": "Ada", "on": "2026-11-02"},
    {"dimension": "height", "how": "assumed", "by": "Ada", "on": "2026-11-02"},
]
ARC = {
    "shape": "arc",
    "turn": "left",
    "chord": "4267.2 mm",
    "rise": "762 mm",
    "readings": [
        {"chord": "2400 mm", "rise": "230 mm", "accuracy": "2 mm"},
        {"straightedge": "1200 mm", "first_gap": "60 mm", "last_gap": "0 mm", "at_height": "300 mm"},
    ],
    "leans": [{"along": "0 mm", "outwards": "-6 mm", "height": "2400 mm"}],
}
# By hand: a circle of radius 3 m about (1200, -2749.5454), read every 200 mm.
OFFSETS = {
    "tolerance": "2 mm",
    "points": [
        {"along": f"{x} mm", "offset": f"{(3000.0**2 - (x - 1200.0) ** 2) ** 0.5 - 2749.5454:.2f} mm"}
        for x in range(0, 2401, 200)
    ],
}


def taken_wall(**changes):
    wall = documents.wall(pieces=[ARC], measured_on="convex_framing", tape_accuracy="1/16 in", marks=MARKS)
    wall |= {"height": "2700 mm", "openings": []}
    return wall | {"key": "taken", "name": "Taken"} | changes


def stored(job: Job, **changes):
    return save_document(job, taken_wall(**changes), seen_version=None)


def test_readings_leans_tape_and_marks_come_back_as_they_were_stored(small_job: Job) -> None:
    wall = stored(small_job)
    document = wall_document(wall)
    assert document["pieces"][0]["readings"] == ARC["readings"]
    assert document["pieces"][0]["leans"] == ARC["leans"]
    assert (document["tape_accuracy"], document["marks"]) == ("1.5875 mm", MARKS)
    again = save_document(small_job, document, seen_version=wall.version)
    assert wall_document(again) == document
    # Nothing changed, so nothing stands in the history twice.
    assert ArcReading.history.count() == 2 and SiteSurvey.history.count() == 1


def test_a_mark_is_signed_by_who_says_it_and_keeps_its_name_while_its_figure_stays(small_job: Job) -> None:
    wall = stored(small_job)
    document = wall_document(wall)
    document["height"] = "2600 mm"
    document["marks"][0]["how"] = "confirmed"
    document["marks"].append({"dimension": "pieces[0].rise", "how": "measured", "by": "Forged", "on": "2020-01-01"})
    save_document(small_job, document, seen_version=wall.version, signature=SIGNED)
    signed = {entry.dimension: (entry.how, entry.by) for entry in DimensionMark.objects.all()}
    assert signed == {
        "pieces[0].chord": ("confirmed", "Ines Marr"),
        "height": ("assumed", "Ines Marr"),
        "pieces[0].rise": ("measured", "Ines Marr"),
    }
    assert DimensionMark.history.filter(dimension="pieces[0].chord").count() == 2


def test_an_untouched_mark_keeps_the_name_it_was_given(small_job: Job) -> None:
    wall = stored(small_job)
    save_document(small_job, wall_document(wall), seen_version=wall.version, signature=SIGNED)
    assert {entry.by for entry in DimensionMark.objects.all()} == {"Ada"}


def test_offsets_without_pieces_are_fitted_and_kept_with_the_wall(small_job: Job) -> None:
    wall = stored(small_job, pieces=None, offsets=OFFSETS, measured_on="left_framing", marks=[])
    document = wall_document(wall)
    (piece,) = document["pieces"]
    assert piece["turn"] == "right"
    assert float(piece["radius"].removesuffix(" mm")) == pytest.approx(3000, abs=2)
    assert document["offsets"]["points"][0]["offset"] == "0 mm"
    assert BaselineOffset.objects.count() == 13 == BaselineOffset.history.count()
    assert wall_document(save_document(small_job, document, seen_version=wall.version)) == document


def test_a_copy_leaves_what_was_read_on_site_behind(small_job: Job) -> None:
    document = wall_document(copy_wall(stored(small_job)))
    assert document["marks"] == [] and document["tape_accuracy"] is None
    assert "readings" not in document["pieces"][0]


@pytest.mark.parametrize(
    ("changes", "path", "message"),
    [
        ({"marks": [MARKS[0] | {"dimension": "pieces[3].rise"}]}, "marks[0].dimension", "not a dimension this wall"),
        ({"pieces": [ARC | {"leans": ARC["leans"] * 2}]}, "pieces[0].leans", "one lean for the whole arc"),
        ({"pieces": [ARC | {"readings": [{"chord": 40, "gap": 1}]}]}, "pieces[0].readings[0]", "chord and rise"),
        ({"measured_on": "concave_framing"}, "pieces[0].readings[1]", "on a convex face"),
        ({"offsets": OFFSETS}, "offsets.start", "leave the pieces out"),
        ({"tape_accuracy": "2 ft"}, "tape_accuracy", "from 0.01 to 100 mm"),
    ],
)
def test_what_cannot_have_been_taken_is_refused_with_its_place(small_job: Job, changes, path, message) -> None:
    with pytest.raises(DocumentError) as refused:
        stored(small_job, **changes)
    assert {complaint.path for complaint in refused.value.complaints} == {path}
    assert message in str(refused.value)
    assert not small_job.walls.filter(key="taken").exists()
