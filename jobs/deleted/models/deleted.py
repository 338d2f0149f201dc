from django.db import models
from django.db.models import Q

from jobs.jobs.models.jobs import Job
from quoting.platform.models.bounds import one_of, stated


class DeletedKind(models.TextChoices):
    WALL = "wall", "Wall"
    ITEM = "item", "Item"
    ORDER = "order", "Order draft"
    CHANGE = "change", "Change draft"


class Deleted(models.Model):
    """Something that was deleted and can be put back. document: as a job file has it, and what a file does not say."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="deleted")
    kind = models.CharField(max_length=6, choices=DeletedKind.choices)
    key = models.CharField(max_length=60, help_text="By which it is found among those of its kind.")
    name = models.CharField(max_length=260)
    document = models.JSONField()
    deleted_at = models.DateTimeField()
    deleted_by_name = models.CharField(max_length=200)
    until = models.DateTimeField(help_text="Then it is forgotten.")
    put_back_at = models.DateTimeField(null=True, blank=True)
    put_back_by_name = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["-deleted_at", "-pk"]
        verbose_name = "deleted part"
        constraints = [
            one_of("deleted", "kind", DeletedKind.values),
            stated("deleted", "key", "name", "deleted_by_name"),
            models.CheckConstraint(
                condition=Q(put_back_at=None, put_back_by_name="") | (~Q(put_back_at=None) & ~Q(put_back_by_name="")),
                name="deleted_put_back_by_somebody",
            ),
        ]

    def __str__(self) -> str:
        return self.name
