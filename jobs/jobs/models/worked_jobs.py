from django.db import models
from django.db.models import Q

from jobs.jobs.models.jobs import Job
from quoting.platform.models.bounds import between

MAX_CHANGES = 2_000_000_000


class WorkedJob(models.Model):
    """How often a job has changed, and what was found when it was last worked up, beside its stored needs."""

    job = models.OneToOneField(Job, primary_key=True, on_delete=models.CASCADE, related_name="worked")
    changes = models.PositiveIntegerField(default=1, help_text="Rises with every change of the job or a part of it.")
    worked_changes = models.PositiveIntegerField(
        null=True, blank=True, help_text="The number of changes it was worked up at; none before the first time."
    )
    basis = models.CharField(
        max_length=64, blank=True, help_text="Mark over what its quantities took from the catalog."
    )
    catalog_changes = models.PositiveIntegerField(
        null=True, blank=True, help_text="The number of the catalog's changes its dates were counted at."
    )
    dated_on = models.DateField(null=True, blank=True, help_text="The firm's day its dates were counted on.")
    worked_up_at = models.DateTimeField(null=True, blank=True)
    trouble = models.TextField(blank=True, help_text="Why its walls cannot be worked out; empty when they can.")
    findings = models.JSONField(default=list, blank=True, help_text="What is missing or to be decided, in sentences.")

    class Meta:
        indexes = [models.Index(fields=["dated_on"], name="worked_job_dated_on")]
        constraints = [
            between("worked_job", "changes", 1, MAX_CHANGES),
            between("worked_job", "worked_changes", 1, MAX_CHANGES),
            between("worked_job", "catalog_changes", 0, MAX_CHANGES),
            models.CheckConstraint(
                condition=Q(
                    worked_changes__isnull=True,
                    catalog_changes__isnull=True,
                    dated_on__isnull=True,
                    worked_up_at__isnull=True,
                )
                | Q(
                    worked_changes__isnull=False,
                    catalog_changes__isnull=False,
                    dated_on__isnull=False,
                    worked_up_at__isnull=False,
                ),
                name="worked_job_worked_or_not",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.job_id} at change {self.worked_changes} of {self.changes}"
