"""What a better plan is looked for; a question is known again by its mark, which changes with whatever it rests on."""

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass

from jobs.core.boards.boards import LaidFace
from jobs.core.measure.curve import Face
from jobs.core.ordering.job_work_up import JobWorkUp
from jobs.core.takeoff.cut_list import StickList, stick_lists
from jobs.core.takeoff.wall_work_up import faces_to_prove
from jobs.plans.models import PlanOf

BOARDS_LIMIT_S = 60
BOARDS_GAP = 0.002
STICKS_LIMIT_S = 20


@dataclass(frozen=True)
class BoardQuestion:
    marks: Mapping[tuple[str, Face], str]
    faces: tuple[LaidFace, ...]

    @property
    def mark(self) -> str:
        return _mark([f"{wall}/{face}/{mark}" for (wall, face), mark in self.marks.items()])


@dataclass(frozen=True)
class StickQuestion:
    lists: tuple[StickList, ...]

    @property
    def mark(self) -> str:
        return _mark([stick_list.mark for stick_list in self.lists])


def _mark(parts: list[str]) -> str:
    return hashlib.sha256("\n".join(sorted(parts)).encode()).hexdigest()


def question_of(what: str, work_up: JobWorkUp) -> BoardQuestion | StickQuestion | None:
    """None while there is nothing of it to be cut."""
    if what == PlanOf.BOARDS:
        marks, faces = faces_to_prove(work_up.walls, work_up.read.book, work_up.today)
        return BoardQuestion(marks, tuple(faces)) if faces else None
    lists = stick_lists(work_up.walls, work_up.read.book, work_up.read.job.plans.on_hand, work_up.today)
    return StickQuestion(lists) if lists else None
