from jobs.core.boards.chosen_board_plan import KeptBoards, KeptFace
from jobs.core.takeoff.job_plans import JobPlans
from jobs.jobs.models import Job


def kept_faces_of(job_id: int, wall_key: str) -> tuple[KeptFace, ...]:
    """The faces of one wall in the board plan chosen for its job; none without one."""
    row = Job(pk=job_id).plans.filter(what="boards").first()
    plan = row.to_core() if row else None
    return JobPlans(plan).faces_of(wall_key) if isinstance(plan, KeptBoards) else ()
