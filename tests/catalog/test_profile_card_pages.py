"""The profile card of a trim on its catalog page. Figures are a made-up maker's."""

import pytest
from django.urls import reverse

from catalog.core.materials.profiles import area_of
from catalog.drawings.profile import profile_svg
from catalog.drawings.svg import DrawingInputError
from catalog.models import Material
from tests.stored import stored_job
from tests.support.desk import DAY, HOSTILE, as_, opened

pytestmark = pytest.mark.both_engines
__all__ = ["as_"]


@pytest.fixture
def base(frozen_clock, db):
    frozen_clock.move_to(DAY)
    stored_job("larkmoor-dental")
    return Material.objects.filter(kind="trim").first()


def entries(**more):
    given = {"shape": "Bevel", "forms": ["bendable", "template"], "grades": ["paint"], "splice": "Scarf, glued"}
    given |= {"section": "0; 0\n1/2; 0\n1/2; 4\n0; 5 1/4", "limits": "3 1/2; 12; ; 3; 3\n6 in; 18 in; 48 in"}
    return given | {"limits_source": "The maker's sheet", "limits_sure": "maker"} | more


def test_a_card_is_filled_in_drawn_and_shown_with_its_sources(as_, base):
    office, page = as_("office"), reverse("material", args=[base.pk])
    form_page = reverse("profile_set", args=[base.pk])
    assert "plain rectangle" in office.get(page).content.decode()
    answer = office.post(form_page, entries() | opened(office, form_page))
    assert (answer.status_code, answer["Location"]) == (302, page)
    card = Material.objects.get(pk=base.pk).to_core().profile
    assert card.section == ((0.0, 0.0), (12.7, 0.0), (12.7, 101.6), (0.0, 133.35))
    # A rectangle of 1/2 x 4 in and a right triangle of 1/2 x 1-1/4 in on it, in square inches.
    assert area_of(card.section) / 25.4**2 == pytest.approx(0.5 * 4 + 0.5 * 1.25 / 2)
    message = office.get(page).content.decode()
    assert "plain rectangle" not in message
    for words in ("bendable, to a template", "paint grade", "Scarf, glued", "The maker&#x27;s sheet, the maker", "48"):
        assert words in message
    form = office.get(reverse("profile_set", args=[base.pk])).content.decode()
    assert "3 1/2&quot;; 1&#x27; 0&quot;; ; 3&quot;; 3&quot;" in form or "3-1/2&quot;" in form


def test_a_wrong_card_is_told_beside_its_field_and_nothing_is_kept(as_, base):
    office, page = as_("office"), reverse("profile_set", args=[base.pk])
    wrong = [
        ({"section": "0; 0\n1/2"}, "two lengths"),
        ({"section": "0; 0\n1; 0\n2; 0"}, "enclose nothing"),
        ({"section": "0; 0\n1; x\n2; 0"}, "section"),
        ({"limits": "6; 18; 1; 1; 1; 1"}, "not a name known here"),
        ({"limits": "6; 18\n3; 12"}, "narrowest to the widest"),
        ({"limits_source": ""}, "who states the table"),
        ({"forms": ["cast"]}, "cast is not one of"),
    ]
    for change, message in wrong:
        answer = office.post(page, entries(**change) | opened(office, page))
        assert answer.status_code == 422, change
        assert message in answer.content.decode(), change
    for text in HOSTILE:
        assert office.post(page, entries(section=text, limits=text, shape=text) | opened(office, page)).status_code in (
            200,
            302,
            422,
        )
    assert office.post(page, {"shape": ""} | opened(office, page)).status_code == 302
    assert Material.objects.get(pk=base.pk).profile is None


def test_a_section_without_sizes_is_not_made_up():
    with pytest.raises(DrawingInputError, match="state its thickness and width"):
        profile_svg((), title="Base: section")
    assert "plain rectangle" in profile_svg((), title="Base", thickness_mm=12.7, width_mm=133.35).svg


def test_the_lead_sees_no_card(as_, base):
    assert as_("lead").get(reverse("profile_set", args=[base.pk])).status_code == 403
