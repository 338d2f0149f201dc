from django.db import models
from django.db.models import Q


class ErrandState(models.TextChoices):
    WAITING = "waiting", "Waiting"
    CLAIMED = "claimed", "Under way"
    DONE = "done", "Done"
    FAILED = "failed", "Failed"


class Errand(models.Model):
    """One piece of background work. This row is the truth; whatever carries messages is only a doorbell."""

    kind = models.CharField(max_length=60)
    key = models.CharField(max_length=200, help_text="With the kind, names the work: the same work has one row.")
    payload = models.JSONField(default=dict)
    state = models.CharField(max_length=8, choices=ErrandState.choices, default=ErrandState.WAITING)
    due_at = models.DateTimeField()
    claimed_by = models.CharField(
        max_length=120,
        blank=True,
        help_text="A name made anew for each claim, so that a late claimant is told.",
    )
    lease_until = models.DateTimeField(null=True, blank=True)
    tries = models.PositiveSmallIntegerField(default=0)
    error = models.TextField(blank=True)
    progress_text = models.CharField(max_length=200, blank=True)
    progress_percent = models.PositiveSmallIntegerField(default=0)
    created_at = models.DateTimeField()
    finished_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        indexes = [models.Index(fields=["state", "due_at"], name="errand_state_due")]
        constraints = [
            models.UniqueConstraint(fields=["kind", "key"], name="errand_kind_key_once"),
            models.CheckConstraint(condition=Q(state__in=ErrandState.values), name="errand_state_is_known"),
            models.CheckConstraint(
                condition=Q(progress_percent__gte=0, progress_percent__lte=100),
                name="errand_percent_in_range",
            ),
            models.CheckConstraint(
                condition=Q(state="claimed", lease_until__isnull=False) & ~Q(claimed_by="")
                | ~Q(state="claimed") & Q(claimed_by="", lease_until__isnull=True),
                name="errand_claim_and_lease_agree",
            ),
            models.CheckConstraint(
                condition=Q(state__in=["done", "failed"], finished_at__isnull=False)
                | Q(state__in=["waiting", "claimed"], finished_at__isnull=True),
                name="errand_finish_and_state_agree",
            ),
            models.CheckConstraint(condition=~Q(state="failed") | ~Q(error=""), name="errand_failure_says_why"),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.key} ({self.state})"

    @property
    def is_over(self) -> bool:
        return self.state in (ErrandState.DONE, ErrandState.FAILED)
