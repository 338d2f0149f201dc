"""Whatever is posted, the wall's pages answer with sentences."""

import os

import pytest
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from jobs.walls.models import Wall
from jobs.walls.pages.form.form_parts import LISTS, leaves_of
from jobs.walls.pages.form.typed_wall import EVERY_PART
from tests.stored import stored_job
from tests.support.wall_posts import form_of

pytestmark = pytest.mark.both_engines
EXAMPLES = 40 if os.environ.get("CURVEWRIGHT_TRIAL") else 15
NASTY = st.sampled_from(
    [
        "", " ", "0", "-1", "1e308", "NaN", "Infinity", "-0", "1/0", "1'' 2", "9" * 5000, "\x00", "\ud800", "٣", "½",
        "'; DROP TABLE jobs_wall; --", "<script>alert(1)</script>", "{{ 7*7 }}", "../../etc/passwd", "true", "null",
        "[]", "2027-13-40", "🧱" * 300, "\u202e12 in", "1,000", "12' 13\"", "0.0000000001", "99999999 ft", "\n\r\t",
    ]
)  # fmt: skip
TYPED = NASTY | st.text(max_size=30) | st.floats().map(str) | st.integers().map(str)
ENTRIES = [
    *(
        "name",
        "measured_on",
        "height",
        "height_way",
        "top",
        "track",
        "stud",
        "stud_depth",
        "insulated",
        "tape_accuracy",
    ),
    *("left-level", "right-painted", "ends-start", "ends-studs", "room-first", "room-joint", "offsets-tolerance"),
    *(f"{name}-{place}-{leaf}" for name, rows in LISTS.items() for leaf in leaves_of(rows.form) for place in (0, 1)),
]
NAMES = st.sampled_from(
    [*ENTRIES, "do", "seen_version", "present_version", "complained", "reason:x", "back:x", "view", "show"]
)
STRANGE_NAMES = st.sampled_from(
    [
        "pieces-999-way",
        "pieces-٣-way",
        "pieces--1-way",
        "trims-0-__class__",
        "left-layers-8-board",
        "reason:",
        "x" * 300,
    ]
)
DOINGS = st.sampled_from(
    [
        "save",
        "save-over",
        "redraw",
        "",
        "add-pieces",
        "remove-pieces-0",
        "remove-pieces-999",
        "up-trims-1",
        "add-nothing",
        "open-boards",
        "open-pieces-0-given",
        "open-nothing",
        "fit-offsets",
        "take-fit",
    ]
)
POSTS = st.dictionaries(NAMES | STRANGE_NAMES, TYPED, max_size=8)


@pytest.fixture
def wall(db):
    return stored_job("larkmoor-dental").walls.get()


@pytest.fixture
def desk(client, make_person):
    client.raise_request_exception = True
    client.force_login(make_person("estimator"))
    return client


def sendable(data):
    """As a browser can send it: no lone surrogates."""
    return {name: str(value).encode("utf-8", "replace").decode() for name, value in data.items()}


SLOW = settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])


@pytest.mark.parametrize("url_name", ["wall", "wall_preview"])
@SLOW
@given(changed=POSTS, wanted=DOINGS)
def test_hostile_entries_in_a_stored_wall_are_answered_with_sentences(desk, wall, url_name, changed, wanted):
    url = reverse(url_name, args=[wall.job_id, wall.key])
    data = {**form_of(Wall.objects.get(pk=wall.pk), do=wanted), **changed}
    answer = desk.post(url, sendable(data) | {"part": EVERY_PART})
    assert answer.status_code in (200, 302, 409, 422)
    assert b"<script>alert(1)</script>" not in answer.content


@pytest.mark.parametrize("url_name", ["wall_add", "wall_add_preview"])
@SLOW
@given(data=POSTS)
def test_hostile_entries_in_a_new_wall_are_answered_with_sentences(desk, wall, url_name, data):
    url = reverse(url_name, args=[wall.job_id])
    answer = desk.post(url, sendable(data) | {"part": EVERY_PART})
    assert answer.status_code in (200, 422)
    assert Wall.objects.count() == 1
