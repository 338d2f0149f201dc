"""What a job is cut by beside its walls: the plans a person chose for boards and sticks, and what is on hand."""

from __future__ import annotations

from dataclasses import dataclass

from jobs.core.boards.chosen_board_plan import KeptBoards, KeptFace
from jobs.core.takeoff.cut_list import KeptSticks, OnHand


@dataclass(frozen=True)
class JobPlans:
    """boards, sticks: None where the quick plan serves. on_hand: of the firm's stock what is set aside for the job."""

    boards: KeptBoards | None = None
    sticks: KeptSticks | None = None
    on_hand: tuple[OnHand, ...] = ()

    def faces_of(self, wall: str) -> tuple[KeptFace, ...]:
        """The faces of one wall in the board plan; none without one.

        >>> JobPlans().faces_of("reception-screen")
        ()
        """
        return () if self.boards is None else tuple(face for face in self.boards.faces if face.wall == wall)


NO_PLANS = JobPlans()
