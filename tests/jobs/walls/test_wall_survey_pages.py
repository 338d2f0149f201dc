"""The survey on the wall's page: marks, readings, offsets and the pieces fitted to them."""

from importlib import import_module

import pytest
from django.apps import apps
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from jobs.jobs.models import WorkedJob
from jobs.walls.models import DimensionMark
from jobs.walls.services.walls import wall_document
from tests.stored import stored_job
from tests.support.wall_documents import save_document
from tests.support.wall_posts import form_of, posted

pytestmark = pytest.mark.usefixtures("frozen_clock")
# By hand: a circle of radius 3 m about (1200, -2749.5454), read every 200 mm.
OFFSETS = [(x, (3000.0**2 - (x - 1200.0) ** 2) ** 0.5 - 2749.5454) for x in range(0, 2401, 200)]


@pytest.fixture
def wall(db):
    return stored_job("larkmoor-dental").walls.get()


@pytest.fixture
def desk(client, make_person):
    client.force_login(make_person("estimator"))
    return client


def url_of(wall):
    return reverse("wall", args=[wall.job_id, wall.key])


def typed_offsets(wall):
    rows = {
        f"offsets-points-{place}-{entry}": f"{figure:.2f} mm"
        for place, at in enumerate(OFFSETS)
        for entry, figure in zip(("along", "offset"), at, strict=True)
    }
    return form_of(wall) | rows | {"offsets-tolerance": "2 mm", "measured_on": "left_framing"}


def test_a_figure_typed_anew_is_measured_by_who_saves_and_the_others_stay_as_they_were(desk, wall):
    marks = [
        {"dimension": "pieces[0].chord", "how": "confirmed", "by": "Ines Marr", "on": "2026-09-02"},
        {"dimension": "pieces[0].rise", "how": "confirmed", "by": "Ines Marr", "on": "2026-09-02"},
    ]
    wall = save_document(wall.job, wall_document(wall) | {"marks": marks}, seen_version=wall.version)
    answer = desk.post(url_of(wall), form_of(wall) | {"pieces-0-rise": "31", "height__how": "assumed", "do": "save"})
    assert answer.status_code == 302
    known = {entry.dimension: (entry.how, entry.by) for entry in DimensionMark.objects.all()}
    assert known["pieces[0].chord"] == ("confirmed", "Ines Marr")
    assert known["pieces[0].rise"][0] == "measured" and known["pieces[0].rise"][1] != "Ines Marr"
    assert known["height"][0] == "assumed"
    page = desk.get(f"{url_of(wall)}?show=measured").content.decode()
    assert "Held back from ordering" in page and "not measured or confirmed" in page


def test_readings_typed_on_the_page_are_kept_and_told_beside_their_entry_when_wrong(desk, wall):
    reading = {"readings-0-of_piece": "1", "readings-0-reading_way": "chord_rise", "readings-0-chord": "84"}
    wrong = desk.post(url_of(wall), form_of(wall) | reading | {"readings-0-rise": "0", "do": "save"})
    assert wrong.status_code == 422
    assert 'id="readings-0-rise_error">Rise' in wrong.content.decode()
    stored = desk.post(url_of(wall), form_of(wall) | reading | {"readings-0-rise": "6", "do": "save"})
    assert stored.status_code == 302
    assert "Not one radius" in desk.get(f"{url_of(wall)}?show=measured").content.decode()


def test_pieces_are_fitted_to_offsets_shown_taken_and_kept_with_them(desk, wall):
    shown = desk.post(url_of(wall), typed_offsets(wall) | {"do": "fit-offsets"}).content.decode()
    assert "Pieces that fit these offsets" in shown and "Farthest off by" in shown
    wall.refresh_from_db()
    assert wall.version == 1 and wall_document(wall)["offsets"] is None
    refused = desk.post(url_of(wall), typed_offsets(wall) | {"do": "save"})
    assert refused.status_code == 422 and "use them, or remove the offsets" in refused.content.decode()
    taken = desk.post(url_of(wall), typed_offsets(wall) | {"do": "take-fit"})
    entries = {field: value for field, value in typed_of(taken).items() if value}
    assert desk.post(url_of(wall), entries | {"do": "save"}).status_code == 302
    document = wall_document(wall.job.walls.get())
    assert [(entry["shape"], entry["turn"]) for entry in document["pieces"]] == [("arc", "right")]
    assert float(document["pieces"][0]["radius"].removesuffix(" mm")) == pytest.approx(3000, abs=2)
    assert "Offsets from the baseline" in desk.get(f"{url_of(wall)}?view=offsets").content.decode()


def test_pieces_fitted_to_offsets_are_marked_as_worked_out_and_not_as_measured(desk, wall):
    taken = desk.post(url_of(wall), typed_offsets(wall) | {"do": "take-fit"})
    entries = {field: value for field, value in typed_of(taken).items() if value}
    assert desk.post(url_of(wall), entries | {"do": "save"}).status_code == 302
    marks = {
        entry.dimension: (entry.how, entry.by) for entry in DimensionMark.objects.filter(dimension__startswith="pieces")
    }
    by = wall_document(wall.job.walls.get())["marks"][0]["by"]
    assert marks == {"pieces[0].radius": ("fitted", by), "pieces[0].arc": ("fitted", by)}
    page = desk.get(f"{url_of(wall)}?show=measured").content.decode()
    assert "<strong>worked out from offsets</strong>" in page and "is only worked out from offsets" in page
    again = entries | {"seen_version": wall.job.walls.get().version, "do": "save"}
    assert desk.post(url_of(wall), again).status_code == 302
    assert DimensionMark.objects.get(dimension="pieces[0].arc").how == "fitted"


def test_a_fitted_figure_typed_over_is_measured_by_whoever_types_it(desk, wall):
    taken = desk.post(url_of(wall), typed_offsets(wall) | {"do": "take-fit"})
    entries = {field: value for field, value in typed_of(taken).items() if value}
    assert desk.post(url_of(wall), entries | {"pieces-0-radius": "3000 mm", "do": "save"}).status_code == 302
    known = {entry.dimension: entry.how for entry in DimensionMark.objects.all()}
    assert (known["pieces[0].radius"], known["pieces[0].arc"]) == ("measured", "fitted")


def test_a_height_cannot_be_sent_as_worked_out_from_offsets(desk, wall):
    answer = desk.post(url_of(wall), form_of(wall) | {"height__how": "fitted", "do": "save"})
    assert answer.status_code == 422
    assert "nly a figure of a piece is fitted to offsets" in answer.content.decode()


def test_stored_marks_of_figures_no_tape_reads_are_set_right_where_there_are_offsets(desk, wall):
    taken = desk.post(url_of(wall), typed_offsets(wall) | {"do": "take-fit"})
    entries = {field: value for field, value in typed_of(taken).items() if value}
    desk.post(url_of(wall), entries | {"pieces-0-radius": "3000 mm", "do": "save"})
    DimensionMark.objects.update(how="measured")
    before = WorkedJob.objects.get(job=wall.job_id).changes
    import_module("jobs.migrations.0019_worked_out_from_offsets").mark_what_was_fitted(apps, None)
    known = {entry.dimension: entry.how for entry in DimensionMark.objects.all()}
    assert (known["pieces[0].radius"], known["pieces[0].arc"]) == ("measured", "fitted")
    assert WorkedJob.objects.get(job=wall.job_id).changes == before + 1


def test_figures_of_pieces_fitted_just_now_are_not_said_to_be_measured(wall):
    points = [{"along": f"{x} mm", "offset": f"{y:.2f} mm"} for x, y in OFFSETS]
    document = wall_document(wall) | {"pieces": [], "openings": [], "measured_on": "left_framing"}
    document |= {"offsets": {"tolerance": "2 mm", "points": points}}
    mark = {"dimension": "pieces[0].arc", "by": "Ines Marr", "on": "2026-09-02"}
    with pytest.raises(DocumentError, match="worked out from the offsets: say fitted"):
        save_document(wall.job, document | {"marks": [mark | {"how": "measured"}]}, seen_version=wall.version)
    with pytest.raises(DocumentError, match="only a figure of a piece is fitted"):
        height = mark | {"dimension": "height", "how": "fitted"}
        save_document(wall.job, document | {"marks": [height]}, seen_version=wall.version)
    stored = save_document(wall.job, document | {"marks": [mark | {"how": "fitted"}]}, seen_version=wall.version)
    assert wall_document(stored)["marks"][0]["how"] == "fitted"


def test_fitted_figures_are_shown_as_a_tape_reads_them_and_kept_exact(desk, wall):
    """What does not round to the figure shown is not believed."""
    taken = desk.post(url_of(wall), typed_offsets(wall) | {"do": "take-fit"})
    exact = dict(entry.split("|", 1)[1].split("|") for entry in taken.context["exact"] if entry.startswith("radius|"))
    ((shown, meant),) = exact.items()
    assert (shown, meant.endswith(" mm"), len(meant) > 10) == ("9' 10-1/8\"", True, True)
    assert meant not in taken.content.decode().replace(f'|{meant}"', "")
    entries = {field: value for field, value in typed_of(taken).items() if value}
    assert desk.post(url_of(wall), entries | {"do": "save"}).status_code == 302
    assert wall_document(wall.job.walls.get())["pieces"][0]["radius"] == meant
    forged = entries | {"exact": [f"radius|{shown}|4000.123456 mm"], "seen_version": wall.job.walls.get().version}
    assert desk.post(url_of(wall), forged | {"do": "save"}).status_code == 302
    assert wall_document(wall.job.walls.get())["pieces"][0]["radius"] == meant


def typed_of(answer):
    """The form of a page as a browser would send it, each of its lines opened."""
    typed = answer.context["form"].typed
    # The stored door is wider than this short wall has room for.
    typed.put("openings", [])
    return posted(typed, seen_version=answer.context["seen_version"])
