"""What the API shows of substitutions and of what may stand in; and what is sent to it."""

from datetime import datetime
from decimal import Decimal
from typing import Annotated

from catalog.core.ground.declared import Choice, Measured, Of, View
from jobs.deliveries.api.shapes.claims import CheckedNeed
from jobs.deliveries.services.replacements import NeedCheck, need_check
from quoting.changes.models import ChangeState, Substitution
from quoting.changes.services.stand_ins import Offered
from quoting.changes.services.substitutions import NewSubstitution
from quoting.platform.api.declared import answer_shapes, list_of, request_shapes


def need_of(row: Substitution, moment: datetime) -> NeedCheck:
    """When the other item would come, ordered at that moment."""
    wanted = row.job.needs.filter(material=row.material_id).first()
    need_by = row.line.need_by if row.line else wanted.need_by if wanted else None
    return need_check(row.job, row.instead, need_by, order_day=moment.date(), placed_at=moment.time())


def _standing(row: Substitution) -> str:
    return row.note.state if row.note else "priced" if row.draft_id else "dropped"


class SubstitutionShown(View):
    """One material in the place of another. The walls are changed by hand once its note is signed."""

    document_name = "substitution"

    id: int
    order: Annotated[str | None, Of("line.order.number")]
    place: Annotated[int | None, Of("line.place")]
    material: Annotated[str, Of("material_id")]
    instead: Annotated[str, Of("instead_id")]
    reason: str
    draft: Annotated[int | None, Of("draft_id")]
    note: Annotated[int | None, Of("note.number")]
    standing: Annotated[str, Choice(("priced", *ChangeState.values, "dropped")), Of(_standing)]
    made_by: Annotated[str, Of("made_by_name")]
    need: Annotated[CheckedNeed, Of(need_of)]


SubstitutionsShown = list_of("Substitutions", "substitutions", SubstitutionShown, "The latest first.")


def _price(offered: Offered) -> Decimal | None:
    return None if offered.price is None else round(offered.price, 4)


class StandInShown(View):
    """What fits. Null where not known, or where nothing is bent."""

    document_name = "stand_in"

    material: Annotated[str, Of("material.code")]
    name: Annotated[str, Of("material.name")]
    price: Annotated[Decimal | None, "The least of a unit today.", Of(_price)]
    unit: Annotated[str, Of("material.unit_used")]
    tightest_radius: Annotated[float, Measured(zero_is_null=True), "Asked of it.", Of("stand_in.tightest_mm")]
    least_radius: Annotated[float, Measured(zero_is_null=True), "Its limit there.", Of("stand_in.least_radius_mm")]
    lead_workdays: Annotated[int | None, "As planned, else as quoted."]


class LeftOut(View):
    """Of the same kind and not offered, with the reason."""

    material: Annotated[str, Of("material.code")]
    why: Annotated[str, Of("sentence")]


class StandInsShown(View):
    """What may take the place of a material."""

    document_name = "stand_ins"

    material: str
    offered: tuple[StandInShown, ...]
    left_out: tuple[LeftOut, ...]


SHAPES = answer_shapes(SubstitutionsShown, StandInsShown) | request_shapes(NewSubstitution)
