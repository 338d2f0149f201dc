"""Small drawings of the first wall of many jobs, as the last work-up left them; nothing is worked up for them."""

import json
from collections.abc import Collection

from jobs.needs.models import StoredResult
from jobs.needs.services.result_rows import FACTS


def first_pictures(job_ids: Collection[int]) -> dict[int, dict[str, str]]:
    """By id of the job, the drawings of its first wall by name; a job without walls is left out."""
    rows = StoredResult.objects.filter(job__in=job_ids, kind=FACTS).values_list("job", "document")
    pictures = {job: json.loads(document)["walls"] for job, document in rows}
    return {job: walls[0]["pictures"] for job, walls in pictures.items() if walls}
