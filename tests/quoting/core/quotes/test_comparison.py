"""Builds side by side: every figure is the one the build has when it is worked up by itself."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from catalog.core.ground.document_reader import DocumentError
from quoting.core.prices.variants import FaceChange, TrimChange, Variant
from quoting.core.quotes.comparison import Comparison, Difference, compare
from quoting.core.quotes.comparison_document import comparison_document
from quoting.core.quotes.rebuilding import rebuild
from quoting.core.quotes.work_up import work_up
from tests.documents import job_file

DAY = date(2026, 11, 25)
READ = job_file("larkmoor-dental")
# By its walls: materials from the takeoff, labour from the hours, so that a build moves the price.
WALLS_PRICED = replace(
    READ, pricing=replace(READ.pricing, entered_materials=None, costs=(), hour_cost=Decimal("47.00"))
)
ONE_LAYER = Variant("One thick layer", (FaceChange(layers=1, board="GB-38"),))
TEMPLATE = Variant("Base to a template", (), (TrimChange(position="base", form="template"),))


@pytest.fixture(scope="module")
def compared() -> Comparison:
    return compare(WALLS_PRICED, (ONE_LAYER, TEMPLATE), DAY)


def test_the_present_build_has_the_figures_of_the_worked_example():
    present = compare(READ, (), DAY).present
    # Worked example, Larkmoor Dental: price 13,841.94, total 15,641.39; its base is ordered by 10 December 2026.
    assert (str(present.price), str(present.total)) == ("13841.94", "15641.39")
    assert date(2026, 12, 10) in [need.dates.order_by for need in present.long_lead if need.dates]


def test_every_build_has_the_figures_of_its_own_work_up(compared):
    for build, variant in zip(compared.builds, (ONE_LAYER, TEMPLATE), strict=True):
        alone = work_up(rebuild(WALLS_PRICED, variant).read, DAY)
        assert build.material_cost == alone.takeoff.cost
        assert build.finish == alone.plan.finish
        assert build.price == (alone.quote.priced.price if alone.quote.priced else None)


def test_half_the_layers_are_half_the_board_and_fewer_hours(compared):
    before, after = compared.present, compared.builds[0]
    net = [sum(layer.net_area_mm2 for wall in entry.done.walls for plan in wall.face_plans for layer in plan.layers)
           for entry in (before, after)]  # fmt: skip
    # Worked example: 114.70 and 109.94 sq ft net, two layers each; one layer of another thickness bends on other radii.
    assert net[0] / 92903.04 == pytest.approx(2 * (114.70 + 109.94), rel=0.01)
    assert net[1] == pytest.approx(net[0] / 2, rel=0.01)
    moved = {purchase.key: purchase for purchase in after.purchases}
    assert moved["GB-14"].after is None and moved["GB-38"].before is None
    hanging = next(step for step in after.steps if step.key == "boards")
    assert hanging.after < hanging.before and after.hours < before.hours


def test_the_differences_of_cost_add_up_to_the_difference_of_materials(compared):
    for build in compared.builds:
        if build.material_cost is not None:
            moved = sum(purchase.cost for purchase in build.purchases)
            assert compared.present.material_cost + moved == build.material_cost


def test_kinds_add_up_to_the_cost_of_materials(compared):
    present = compared.present
    assert sum(kind.cost for kind in present.kinds) == present.material_cost


def test_the_differences_of_hours_are_those_of_the_steps(compared):
    build = compared.builds[0]
    moved = sum((step.after or 0) - (step.before or 0) for step in build.steps)
    # Each of at most a dozen steps is kept to a tenth of an hour.
    assert float(moved) == pytest.approx(build.hours - compared.present.hours, abs=0.6)


def test_risks_are_counted_by_weight(compared):
    for build in (compared.present, *compared.builds):
        weights = [finding.weight for finding in build.done.findings]
        assert build.risks == {name: weights.count(name) for name in ("gap", "decide", "caution")}


def test_a_build_that_is_the_present_one_differs_in_nothing():
    same = compare(READ, (Variant("Same", (FaceChange(face="left", level=READ.job.walls[0].left.level),)),), DAY)
    build = same.builds[0]
    assert (build.walls, build.purchases, build.steps) == ((), (), ())
    assert build.total == same.present.total


def test_a_missing_price_is_no_cost_and_is_named():
    materials = dict(WALLS_PRICED.book.materials)
    unpriced = tuple(replace(pack, prices=()) for pack in materials["GB-38"].packs)
    materials["GB-38"] = replace(materials["GB-38"], packs=unpriced)
    read = replace(WALLS_PRICED, book=replace(WALLS_PRICED.book, materials=materials))
    comparison = compare(read, (ONE_LAYER,), DAY)
    build = comparison.builds[0]
    assert (build.material_cost, build.price, build.total) == (None, None, None)
    assert build.missing and build.risks["gap"] > 0
    assert comparison.present.price is not None


def test_a_job_without_start_or_price_says_so_in_every_build():
    read = replace(READ, pricing=None, job=replace(READ.job, start_on=None))
    comparison = compare(read, (TEMPLATE,), DAY)
    for build in (comparison.present, comparison.builds[0]):
        assert (build.finish, build.price) == (None, None)
        assert sum("not priced yet" in text or "no first day" in text for text in build.missing) == 2


def test_every_variant_that_cannot_be_built_is_told_with_its_place():
    wrong = (Variant("A", (FaceChange(board="NONE"),)), TEMPLATE, Variant("B", (FaceChange(wall="x", level=1),)))
    with pytest.raises(DocumentError) as refused:
        compare(READ, wrong, DAY)
    assert [complaint.path for complaint in refused.value.complaints] == [
        "variants[0].faces[0].board",
        "variants[2].faces[0].wall",
    ]


def test_a_board_without_thickness_makes_no_wall_and_is_told():
    materials = dict(READ.book.materials)
    facts = {name: fact for name, fact in materials["GB-38"].facts.items() if name != "thickness_mm"}
    materials["GB-38"] = replace(materials["GB-38"], facts=facts)
    with pytest.raises(DocumentError) as refused:
        compare(replace(READ, book=replace(READ.book, materials=materials)), (TEMPLATE, ONE_LAYER), DAY)
    assert [complaint.path for complaint in refused.value.complaints] == ["variants[1]"]
    assert "thickness" in refused.value.complaints[0].reason


def test_a_line_with_a_missing_price_has_no_difference_of_cost():
    assert Difference("B", "Board", "sqft", Decimal(5), Decimal(6), Decimal("9.00"), None).cost is None
    assert Difference("B", "Board", "sqft", Decimal(5), None, Decimal("9.00"), None).cost == Decimal("-9.00")


def test_the_document_says_the_same(compared):
    written = comparison_document(compared)
    build, text = compared.builds[0], written["builds"][0]
    assert text["variant"]["faces"][0]["board"] == "GB-38"
    assert text["material_cost"] == format(build.material_cost, ".2f")
    assert [purchase["key"] for purchase in text["differences"]["purchases"]] == [
        purchase.key for purchase in build.purchases
    ]


def test_what_is_entered_by_hand_is_said_not_to_follow_the_build(compared):
    assert compared.held == ()
    by_hand = compare(READ, (ONE_LAYER,), DAY)
    assert by_hand.builds[0].price == by_hand.present.price, "the control: its price stands still"
    assert len(by_hand.held) == 2
    partly = replace(WALLS_PRICED, pricing=replace(WALLS_PRICED.pricing, costs=READ.pricing.costs))
    assert ["Some labour" in sentence for sentence in compare(partly, (), DAY).held] == [True]


def test_a_job_priced_from_its_walls_has_another_price_for_another_build(compared):
    assert compared.builds[0].price is not None and compared.builds[0].price != compared.present.price
