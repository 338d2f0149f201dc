"""Approvals of prices below the least margin. Only ever added to: see quoting/platform/immutable_tables.py."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from jobs.jobs.models import Job
from quoting.platform.models.bounds import SHA256, between, stated
from quoting.platform.models.columns import figure_column
from quoting.pricing.models.totals import MAX_TOTAL, total_column


class MarginApproval(models.Model):
    """One person said that the job may be quoted below the least margin, and why; the figures are those shown."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="margin_approvals")
    figures_mark = models.CharField(max_length=64, help_text="Of what was shown when it was approved.")
    price = total_column()
    cost = total_column()
    margin = figure_column()
    least_margin = figure_column()
    shortfall = total_column()
    reason = models.TextField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    by_name = models.CharField(max_length=200)
    at = models.DateTimeField()

    class Meta:
        ordering = ["-at", "-pk"]
        constraints = [
            stated("margin_approval", "reason", "by_name"),
            models.UniqueConstraint(fields=["job", "by", "figures_mark"], name="margin_approval_once_a_person"),
            models.CheckConstraint(condition=Q(figures_mark__regex=SHA256), name="margin_approval_mark_is_sha256"),
            *(between("margin_approval", column, 0, MAX_TOTAL) for column in ("price", "cost", "shortfall")),
            between("margin_approval", "margin", -1, 1),
            between("margin_approval", "least_margin", 0, 1),
        ]

    def __str__(self) -> str:
        return f"{self.by_name}: {self.reason}"
