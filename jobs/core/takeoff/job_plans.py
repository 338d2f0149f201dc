"""What a job is cut by beside its walls: the plans a person chose for boards and sticks, and what is on hand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from catalog.core.ground.declared import (
    As,
    Declared,
    Document,
    Items,
    Schema,
    Schemas,
    Writing,
    or_null,
    read_fields,
    write_fields,
)
from catalog.core.ground.document_reader import Reader, read_all
from jobs.core.boards.chosen_board_plan import KeptBoards, KeptFace
from jobs.core.takeoff.cut_list import KeptSticks, OnHand

MAX_ON_HAND = 200
ON_HAND = Items(Declared(OnHand), MAX_ON_HAND)


@dataclass(frozen=True)
class JobPlans:
    """The plans a person chose to cut and buy the job by, None where the quick plan serves, and what is on hand."""

    document_description = (
        "The plans a person chose to cut and buy the job by. Each serves while what it was made for stands, and never "
        "unchecked; otherwise the quick plan does."
    )

    boards: Annotated[KeptBoards | None, "Of all faces together."] = None
    sticks: Annotated[KeptSticks | None, "Of studs and trim."] = None
    on_hand: Annotated[tuple[OnHand, ...], As(aside=True)] = ()

    @classmethod
    def from_document(cls, about: Reader) -> JobPlans:
        """Of the entries `plans` and `on_hand` of a job.

        >>> JobPlans.from_document(Reader({"on_hand": [{"material": "S", "length": "3 ft", "count": 2}]})).on_hand
        (OnHand(material='S', length_mm=914.4, count=2, pack='', unit_cost=None),)
        """
        plans = about.optional_object("plans")
        values = read_all(
            on_hand=lambda: ON_HAND.read_or(about, "on_hand", ()),
            chosen=lambda: {} if plans is None else read_fields(cls, plans),
        )
        return cls(on_hand=values["on_hand"], **values["chosen"])

    def to_document(self) -> Document:
        """The entries `plans` and `on_hand` of a job.

        >>> JobPlans().to_document()
        {'on_hand': [], 'plans': None}
        """
        is_chosen = self.boards is not None or self.sticks is not None
        return {
            "on_hand": ON_HAND.write(self.on_hand, Writing()),
            "plans": write_fields(self) if is_chosen else None,
        }

    @classmethod
    def properties(cls, refs: Schemas) -> Schema:
        """Of the two entries, for the schema of a job."""
        words = "What of the firm's stock is set aside for the job: it is used before any is bought."
        return {
            "on_hand": {"description": words, **ON_HAND.optional_schema(refs)},
            "plans": or_null(refs.object(cls)),
        }

    def faces_of(self, wall: str) -> tuple[KeptFace, ...]:
        """The faces of one wall in the board plan; none without one.

        >>> JobPlans().faces_of("reception-screen")
        ()
        """
        return () if self.boards is None else tuple(face for face in self.boards.faces if face.wall == wall)


NO_PLANS = JobPlans()
