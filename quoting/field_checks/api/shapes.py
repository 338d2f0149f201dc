from datetime import date
from decimal import Decimal
from typing import Annotated, NamedTuple

from catalog.core.ground.declared import Amount, As, InWords, Of, View, itself
from jobs.core.measure.findings import ShownFinding
from jobs.core.ordering.wall_moves import PieceFit, RadiusMove, ToInform, Where
from jobs.core.takeoff.field_check import MovedLine, MovedPurchase
from quoting.field_checks.services.field_checks import SiteCheck
from quoting.platform.api.declared import answer_shapes

Money = Annotated[Decimal | None, Amount()]


class WallChecked(NamedTuple):
    job: str
    wall: str
    today: date
    check: SiteCheck


class OrderedFitShown(View):
    """Ordered pieces made to a radius the wall has no more; `flex` is how far they flex the way it takes."""

    order: str
    where: Where
    run: Annotated[str, Of("moved.run")]
    piece: Annotated[int, Of("moved.piece")]
    side: Annotated[str, Of("moved.side")]
    made_to_mm: Annotated[float, Of("moved.was_mm")]
    wall_mm: Annotated[float | None, Of("moved.now_mm")]
    flex_mm: float | None
    fit: PieceFit
    sentence: Annotated[str, InWords(), Of(itself)]


class MovedLineShown(MovedLine):
    """A quantity that moves; null where the line is not there."""

    difference: Annotated[Decimal, Of("difference")]


class MaterialCostShown(View):
    """Null while something is missing."""

    quoted_cost: Annotated[Money, As(name="quoted")]
    confirmed_cost: Annotated[Money, As(name="confirmed")]
    cost_difference: Annotated[Money, As(name="difference")]


class PriceShown(View):
    """Of the whole job before tax; null while something is missing."""

    quoted_price: Annotated[Money, As(name="quoted")]
    confirmed_price: Annotated[Money, As(name="confirmed")]
    price_difference: Annotated[Money, As(name="difference")]


class FieldCheckShown(View):
    """What a wall confirmed on site moves. Costs and prices are left out for roles that do not see them."""

    document_name = "field_check"

    job: str
    wall: str
    today: date
    quoted: Annotated[str, "Where the quoted wall comes from.", Of("check.quoted.said")]
    currency: Annotated[str, As(withheld="costs"), Of("check.currency")]
    radii: Annotated[tuple[RadiusMove, ...], Of("check.moves.radii")]
    ordered: Annotated[tuple[OrderedFitShown, ...], Of("check.moves.ordered")]
    inform: Annotated[tuple[ToInform, ...], Of("check.moves.inform")]
    lines: Annotated[tuple[MovedLineShown, ...], Of("check.moved.lines")]
    purchases: Annotated[tuple[MovedPurchase, ...], Of("check.moved.purchases")]
    findings: Annotated[tuple[ShownFinding, ...], Of("check.moved.findings")]
    material_cost: Annotated[MaterialCostShown, As(withheld="costs"), Of("check.moved")]
    price: Annotated[PriceShown, As(withheld="margins"), Of("check")]
    price_missing: Annotated[str | None, As(withheld="margins"), Of(lambda of: of.check.unpriced or None)]
    price_held: Annotated[tuple[str, ...], As(withheld="margins"), Of("check.held")]


SHAPES = answer_shapes(FieldCheckShown)
