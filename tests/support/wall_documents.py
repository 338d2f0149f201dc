from typing import Any

from jobs.jobs.models import Job
from jobs.walls.models import Wall
from jobs.walls.services.walls import save_wall, wall_from_document


def save_document(job: Job, document: dict[str, Any], **more: Any) -> Wall:
    return save_wall(job, wall_from_document(document), **more)
