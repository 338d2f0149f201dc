"""The field check of a wall: what is found on site beside what was quoted."""

import math
from dataclasses import replace
from decimal import Decimal

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from catalog.core.ground.declared import write
from catalog.models import Material
from jobs.orders.services.items import live_item
from jobs.walls.models import Wall
from quoting.field_checks.services.field_checks import quoted_wall
from quoting.pricing.services.pricing import store_pricing
from tests.documents import job_file
from tests.factories.orders import placed_order
from tests.jobs.deliveries.test_receiving_pages import picture
from tests.support import worked
from tests.support.desk import DAY, as_, priced_job

__all__ = ["as_"]
FOUND = {"pieces[0].chord": "168", "pieces[0].rise": "31"}


@pytest.fixture
def wall(frozen_clock, db):
    frozen_clock.move_to(DAY)
    return priced_job("larkmoor-dental").walls.get()


def page_of(wall):
    return reverse("field_check", args=[wall.job_id, wall.key])


def arc_in(chord, rise, offset):
    """R = c²/8h + h/2, angle 4 atan(2h/c) (Machinery's Handbook 31, p. 79); a parallel is longer by offset x angle."""
    return (chord**2 / (8 * rise) + rise / 2 + offset) * 4 * math.atan(2 * rise / chord)


def test_a_rise_found_an_inch_deeper_lists_the_lines_it_moves(as_, wall):
    wall.openings.all().delete()
    page = as_("owner").post(page_of(wall), {**FOUND, "do": "show", "seen_version": wall.version}).context
    moved = {line.key.removeprefix(f"{wall.key}/"): float(line.difference) * 12 for line in page["check"].moved.lines}
    # Chord and rise are of the convex framing face, where the top track runs; the base of that side runs in front of
    # two layers of 1/4 in.
    for key, offset in (("track/top", 0), ("trim-2", 0.5)):
        assert moved[key] == pytest.approx(arc_in(168, 31, offset) - arc_in(168, 30, offset), abs=1e-4)
    assert Wall.objects.get(pk=wall.pk).version == wall.version


def test_the_lead_sees_what_moves_and_no_money(as_, wall):
    # Ten inches deeper, so that more is bought as well.
    sent = {"pieces[0].rise": "40", "do": "show", "seen_version": wall.version}
    shown, owners = (as_(role).post(page_of(wall), sent).content.decode() for role in ("lead", "owner"))
    assert "Quantities that move" in shown
    for secret in ("USD", "price of the job", "Cost quoted", "materials of the job"):
        assert secret not in shown
        # The control: those who see money are shown it.
        assert secret in owners


def test_the_price_moves_by_the_costs_at_the_margin_of_the_job(as_, wall):
    pricing = job_file("larkmoor-dental").pricing
    store_pricing(wall.job, replace(pricing, entered_materials=None))
    sent = {"pieces[0].rise": "40", "do": "show", "seen_version": wall.version}
    check = as_("estimator").post(page_of(wall), sent).context["check"]
    assert check.moved.cost_difference > 0
    # A margin of 38 % on the price (Larkmoor Dental): price = cost / 0.62, to the cent on each side.
    assert abs(check.price_difference - check.moved.cost_difference / Decimal("0.62")) <= Decimal("0.01")


def test_what_is_kept_is_confirmed_by_name_and_a_second_sending_does_no_harm(as_, wall):
    lead, sent = as_("lead"), {**FOUND, "do": "keep", "seen_version": wall.version}
    message = [lead.post(page_of(wall), sent, follow=True).content.decode() for _ in range(2)]
    assert "Confirmed by" in message[0] and "are confirmed already" in message[1]
    stored = Wall.objects.get(pk=wall.pk)
    marks = {mark.dimension: mark.mark for mark in stored.to_core().taken.marks}
    assert {marks[place].how for place in FOUND} == {"confirmed"}
    assert {marks[place].on for place in FOUND} == {DAY.date()}
    assert stored.version == wall.version + 1
    # The control: another figure from the page as it was then is refused.
    late = lead.post(page_of(wall), sent | {"pieces[0].rise": "32"})
    assert late.status_code == 409 and Wall.objects.get(pk=wall.pk).version == stored.version


@pytest.mark.parametrize("typed", ["abc", "-3", "0", "9999 km"])
def test_a_figure_that_cannot_be_is_told_beside_its_entry_and_nothing_is_kept(as_, wall, typed):
    sent = {"pieces[0].rise": typed, "do": "keep", "seen_version": wall.version}
    answer = as_("lead").post(page_of(wall), sent)
    row = next(row for row in answer.context["rows"] if row.entry == "pieces[0].rise")
    assert answer.status_code == 422 and row.errors
    assert Wall.objects.get(pk=wall.pk).version == wall.version


def test_the_quoted_side_is_the_wall_as_it_was_issued(as_, frozen_clock, db):
    frozen_clock.move_to(worked.NOW)
    job = worked.small_job()
    revision, wall = worked.issued(job), job.walls.get()
    owner = as_("owner")
    owner.post(page_of(wall), {"pieces[0].radius": "121", "do": "keep", "seen_version": wall.version})
    # Without an entry, the wall as it is stored now is set beside the quoted one.
    page = owner.post(page_of(wall), {"do": "show"}).context
    row = page["rows"][0]
    assert (row.quoted, row.now) == ("10' 0\"", "10' 1\"")
    assert str(revision) in page["quoted_said"] and page["lines"]
    assert "estimator" in {entry.step for entry in page["check"].moves.inform}
    assert quoted_wall(Wall.objects.get(pk=wall.pk)).spec.pieces[0].given.radius_mm == 120 * 25.4


@pytest.fixture
def ordered(wall):
    """The base of the screen on a placed order, to 128.48 in and 133.10 in at its back."""
    item = live_item(wall.job, "BASE-514-FLEX", DAY)
    material = Material.objects.get(code="BASE-514-FLEX")
    return placed_order(wall.job, material, material.supplier, statement=write(item.statement))


def test_radii_and_what_no_longer_fits_stand_before_any_quantity(as_, wall, ordered):
    sent = {"pieces[0].rise": "31", "do": "show", "seen_version": wall.version}
    shown = as_("lead").post(page_of(wall), sent).content.decode()
    # Rise 31 in for 30: R 132.60 to 129.31 in, 3.29 in tighter; the base flexes 3 in that way.
    order = ["132.60 in", "129.31 in", "3.29 in tighter", "The office: Ask the supplier of", "Quantities that move"]
    places = [shown.index(words) for words in order]
    assert places == sorted(places)
    assert f"on order {ordered.order.number}" in shown and "Difference in" not in shown


def test_a_piece_that_still_fits_is_folded(as_, wall, ordered):
    sent = {"pieces[0].rise": "30.5", "do": "show", "seen_version": wall.version}
    shown = as_("lead").post(page_of(wall), sent).content.decode()
    assert "Every ordered piece still fits." in shown
    assert shown.index("<summary>What stays") < shown.index("1.68 in tighter")


def test_whoever_keeps_a_figure_reads_who_must_know(as_, wall, ordered):
    sent = {"pieces[0].rise": "31", "do": "keep", "seen_version": wall.version}
    sentences = [str(entry) for entry in as_("lead").post(page_of(wall), sent, follow=True).context["messages"]]
    assert (
        f"The office: Ask the supplier of {ordered.order.number} whether the pieces can still be changed." in sentences
    )


def test_a_photo_of_a_step_is_kept_with_its_dimension_whichever_button_is_pressed(as_, wall, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    lead, sent = as_("lead"), {"seen_version": wall.version, "photo-pieces[0].rise": picture()}
    shown = lead.post(page_of(wall), {**FOUND, **sent, "do": "show"}).content.decode()
    photo = wall.photos.get()
    assert "1 photo kept." in shown and (photo.dimension, photo.added_by) == ("pieces[0].rise", "the-lead")
    message = lead.post(page_of(wall), {**sent, "photo-pieces[0].rise": picture(), "do": "keep"}, follow=True)
    assert f"1 photo kept: {wall.name}." in message.content.decode() and wall.photos.count() == 1
    assert Wall.objects.get(pk=wall.pk).version == wall.version


def test_a_file_that_is_no_picture_is_told_beside_its_step_and_nothing_is_saved(as_, wall):
    sent = {**FOUND, "seen_version": wall.version, "photo-height": SimpleUploadedFile("x.jpg", b"no picture")}
    message = as_("lead").post(page_of(wall), {**sent, "do": "keep"})
    rows = {row.entry: row.errors for row in message.context["rows"]}
    assert message.status_code == 422 and rows["height"][0].startswith("Photo") and not rows["pieces[0].rise"]
    assert Wall.objects.get(pk=wall.pk).version == wall.version and not wall.photos.exists()
