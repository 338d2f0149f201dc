"""What the last work-up of a job found, as plain documents, so that pages read it without working the job up."""

from django.db import models

from jobs.jobs.models.jobs import Job
from jobs.jobs.models.worked_jobs import MAX_CHANGES
from quoting.platform.models.bounds import SHA256, between, one_of

KINDS = ("facts", "takeoff", "plan")


class StoredResult(models.Model):
    """One document of one job. It stands while the job has not changed since, and rests on the same catalog and rules.

    The document is JSON as text: a column of JSON would not keep the order of its keys on every engine.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="results")
    kind = models.CharField(max_length=10, choices=[(text, text) for text in KINDS])
    changes = models.PositiveIntegerField(help_text="The number of changes of the job it was worked up at.")
    basis = models.CharField(max_length=64, blank=True, help_text="Mark over what it took from the catalog.")
    rules = models.CharField(max_length=64, help_text="Mark over the code that worked it up.")
    document = models.TextField()

    class Meta:
        ordering = ["job", "kind"]
        constraints = [
            models.UniqueConstraint(fields=["job", "kind"], name="stored_result_once_a_job_and_kind"),
            one_of("stored_result", "kind", KINDS),
            between("stored_result", "changes", 1, MAX_CHANGES),
            models.CheckConstraint(condition=models.Q(rules__regex=SHA256), name="stored_result_rules_are_sha256"),
        ]

    def __str__(self) -> str:
        return f"{self.kind} of job {self.job_id} at change {self.changes}"
