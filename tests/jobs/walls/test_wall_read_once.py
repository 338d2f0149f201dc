"""What is posted for a wall is read once and signed once on its way to the rows."""

from unittest.mock import Mock

import pytest
from django.urls import reverse

from catalog.core.ground.document_reader import DocumentError
from jobs.core.measure import wall_document
from jobs.walls.models import DimensionMark
from jobs.walls.pages import editor
from jobs.walls.services import walls
from jobs.walls.services.dimension_signatures import with_marks_signed
from tests.stored import stored_job
from tests.support.wall_posts import form_of


@pytest.fixture
def wall(db):
    return stored_job("larkmoor-dental").walls.get()


@pytest.fixture
def post(client, make_person, wall):
    client.force_login(make_person("estimator"))
    return lambda name, **more: client.post(reverse(name, args=[wall.job_id, wall.key]), form_of(wall, **more))


@pytest.fixture
def readings(monkeypatch, wall):
    """Counts the readings of a wall: each ends with this check."""
    counter = Mock(wraps=wall_document.check_taken)
    monkeypatch.setattr(wall_document, "check_taken", counter)
    return counter


@pytest.fixture
def signings(monkeypatch):
    counter = Mock(wraps=with_marks_signed)
    for module in (editor, walls):
        monkeypatch.setattr(module, "with_marks_signed", counter)
    return counter


def test_a_save_reads_the_posted_wall_once(post, readings):
    assert post("wall", height__how="measured").status_code == 302
    assert readings.call_count == 1


def test_a_save_signs_the_marks_once(post, signings):
    assert post("wall", height__how="measured").status_code == 302
    assert signings.call_count == 1
    assert [(mark.dimension, mark.by) for mark in DimensionMark.objects.all()] == [("height", "the-estimator")]


@pytest.mark.parametrize(("url_name", "button"), [("wall_preview", ""), ("wall", "redraw")])
def test_a_wall_drawn_but_not_saved_is_read_once(post, readings, url_name, button):
    assert post(url_name, do=button).status_code == 200
    assert readings.call_count == 1


def test_a_copy_is_stored_without_reading_a_document(wall, readings):
    assert walls.copy_wall(wall, name="Second screen").name == "Second screen"
    assert readings.call_count == 0


@pytest.mark.parametrize(("name", "reason"), [("x" * 201, "201 characters"), ("a\x07b", "control character")])
def test_a_copy_of_a_wrong_name_is_refused_by_its_name(wall, name, reason):
    with pytest.raises(DocumentError, match=f"^name: .*{reason}"):
        walls.copy_wall(wall, name=name)
