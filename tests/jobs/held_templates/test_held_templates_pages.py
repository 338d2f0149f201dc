"""The register of templates on its pages and through the API, by those who trace: the lead as well."""

import pytest
from django.urls import reverse

from jobs.held_templates.models import HeldTemplate, TemplateMove
from tests.stored import stored_job
from tests.support.desk import DAY, HOSTILE, as_, opened, queries_of

pytestmark = pytest.mark.both_engines
__all__ = ["as_"]


@pytest.fixture
def library(frozen_clock, db):
    """Its cap rail is made to a template."""
    frozen_clock.move_to(DAY)
    job = stored_job("ashgrove-library")
    job.walls.get().trims.filter(position="cap").update(form="template")
    return job


@pytest.fixture
def place(library):
    wall = library.walls.get()
    return f"{wall.key}|{wall.trims.get(position='cap').name}"


def entries(place_, **more):
    given = {"name": "T1", "place": place_, "shape": "Back of the cap, whole nook", "kept_at": "Workshop, rack 2"}
    return given | {"traced_by": "Ines Quarrell", "traced_on": "2026-11-24"} | more


def url(job):
    return reverse("templates", args=[job.pk])


def test_the_lead_unblocks_a_run_by_entering_its_template(as_, library, place):
    lead, wall = as_("lead"), library.walls.get()
    pages = [
        url(library),
        reverse("wall", args=[library.pk, wall.key]) + "?show=trim",
        reverse("job_cautions", args=[library.pk]),
    ]
    pages += [reverse("site_wall", args=[library.pk, wall.key])]
    for page in pages:
        assert "no template is held" in lead.get(page).content.decode(), page
    answer = lead.post(url(library), entries(place))
    assert (answer.status_code, answer["Location"]) == (302, url(library))
    for page in pages:
        assert "no template is held" not in lead.get(page).content.decode(), page


def test_sent_twice_it_is_one_template_and_one_move(as_, library, place):
    lead = as_("lead")
    for _ in range(2):
        lead.post(url(library), entries(place))
    row = HeldTemplate.objects.get()
    for _ in range(2):
        lead.post(
            reverse("template", args=[library.pk, row.pk]), {"state": "sent", "kept_at": "The mill", "on": "2026-11-25"}
        )
    assert list(TemplateMove.objects.values_list("state", flat=True)) == ["held", "sent"]


def test_a_lost_template_blocks_again_and_its_history_stays(as_, library, place):
    office = as_("office")
    office.post(url(library), entries(place))
    page = reverse("template", args=[library.pk, HeldTemplate.objects.get().pk])
    office.post(page, {"state": "lost", "on": "2026-11-25"})
    message = office.get(page).content.decode()
    assert "Workshop, rack 2" in message
    assert "Tue 24 Nov" in message
    assert "T1 is lost" in office.get(url(library)).content.decode()


WRONG = [
    ({"name": ""}, "Written on it"),
    ({"place": "nowhere|Base"}, "Traced for"),
    ({"piece": "9"}, "9 is more than"),
    ({"kept_at": ""}, "Kept at"),
    ({"traced_on": "2026-12-24"}, "has not come yet"),
    ({"traced_on": "24.11.2026"}, "is not a day"),
    ({"shape": "x" * 501}, "Shape it holds"),
]


def test_a_wrong_entry_is_told_beside_its_field_and_nothing_is_kept(as_, library, place):
    lead = as_("lead")
    for change, message in WRONG:
        answer = lead.post(url(library), entries(place, **change))
        assert answer.status_code == 422
        assert message in answer.content.decode()
    assert not HeldTemplate.objects.exists()


def test_whatever_is_typed_never_breaks_the_page(as_, library, place):
    lead = as_("lead")
    for text in HOSTILE:
        for sent in (entries(place, name=text, shape=text, kept_at=text), dict.fromkeys(entries(place), text)):
            assert lead.post(url(library), sent).status_code in (200, 302, 422), text


def test_a_correction_moves_a_template_to_its_right_run(as_, library, place):
    office = as_("office")
    office.post(url(library), entries(place.partition("|")[0] + "|"))
    assert "no template is held" in office.get(url(library)).content.decode()
    row = HeldTemplate.objects.get()
    change = {name: value for name, value in entries(place).items() if name != "kept_at"}
    page = reverse("template_change", args=[library.pk, row.pk])
    assert office.post(page, change | opened(office, page)).status_code == 302
    assert "no template is held" not in office.get(url(library)).content.decode()
    assert row.history.count() == 2


def test_the_pages_of_the_register_ask_as_often_however_long_it_is(as_, library, place):
    office = as_("office")
    office.post(url(library), entries(place))
    few = queries_of(office, url(library))
    for number in range(2, 6):
        office.post(url(library), entries(place, name=f"T{number}"))
    assert queries_of(office, url(library)) == few


def test_a_template_of_another_job_is_not_found(as_, library, place):
    as_("office").post(url(library), entries(place))
    other = stored_job("larkmoor-dental")
    row = HeldTemplate.objects.get()
    assert as_("lead").get(reverse("template", args=[other.pk, row.pk])).status_code == 404


def test_what_a_way_costs_is_told_to_those_who_see_costs_and_to_nobody_else(as_, library):
    page = reverse("wall", args=[library.pk, library.walls.get().key]) + "?show=trim"
    assert "Cheapest allowed" in as_("office").get(page).content.decode()
    seen = as_("lead").get(page).content.decode()
    assert "Curved by the maker" in seen
    assert "Cheapest allowed" not in seen
    assert "USD" not in seen
