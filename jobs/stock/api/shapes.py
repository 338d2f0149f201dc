"""What the API shows of the firm's stock, and what is sent to it."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated, Literal

from catalog.core.ground.declared import Amount, As, Figure, Of, View, Whole
from catalog.core.ground.refusal import EntryError
from jobs.stock.services.stock import MAX_OF_A_ROW, NewStock
from quoting.platform.api.declared import answer_shapes, list_of, request_shapes


class Stock(View):
    """Sticks of one length or packs of one kind."""

    id: Annotated[int, Of("pk")]
    material: Annotated[str, Of("material_id")]
    length_mm: Annotated[Decimal | None, Figure(), As(name="length_mm")]
    pack: str
    count: int
    unit_cost: Annotated[Decimal | None, Amount(), "What a job is charged for one, null for nothing."]
    note: str
    job: Annotated[str | None, Of("job.key"), "For which it is set aside, null on the shelf."]
    set_aside_by: Annotated[str, Of("set_aside_by_name")]


StockList = list_of("StockList", "stock", Stock, "What the firm has.")


@dataclass(frozen=True)
class StockMove:
    """Some of a row set aside for a job, put back on the shelf, or taken out."""

    move: Literal["set_aside", "put_back", "take_out"]
    count: Annotated[int, Whole(1, MAX_OF_A_ROW)]
    job: Annotated[str | None, "Its key, to set some aside for it."] = None

    def __post_init__(self) -> None:
        if (self.job is not None) != (self.move == "set_aside"):
            raise EntryError("job", "is missing" if self.job is None else "is not a name known here")


SHAPES = answer_shapes(StockList) | request_shapes(NewStock, StockMove)
