from django.db import models

from jobs.jobs.models.jobs import Job
from quoting.platform.models.bounds import SHA256, stated


class WorkedWall(models.Model):
    """One wall of a job worked up, as a plain document, found again by all it rests on.

    The document is JSON as text: a column of JSON would not keep the order of its keys on every engine.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="worked_walls")
    wall = models.CharField(max_length=40, help_text="Key of the wall.")
    mark = models.CharField(max_length=64, help_text="Over the wall, its plans, the catalog of the day and the code.")
    document = models.TextField()

    class Meta:
        ordering = ["job", "wall"]
        indexes = [models.Index(fields=["mark"], name="worked_wall_mark")]
        constraints = [
            models.UniqueConstraint(fields=["job", "wall"], name="worked_wall_once_a_job"),
            stated("worked_wall", "wall"),
            models.CheckConstraint(condition=models.Q(mark__regex=SHA256), name="worked_wall_mark_is_sha256"),
        ]

    def __str__(self) -> str:
        return f"{self.wall} of job {self.job_id}"
