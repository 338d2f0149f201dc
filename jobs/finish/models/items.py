from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from jobs.jobs.models.jobs import Job
from jobs.walls.models import Wall
from quoting.platform.models.bounds import stated, yes_or_no
from quoting.platform.models.pictures import KeptPicture


class FinishItem(models.Model):
    """Something to be mended before a job is done. who, due: empty until the firm has looked at what a client added."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="finish_items")
    request_key = models.CharField(max_length=100, unique=True)
    wall = models.ForeignKey(Wall, null=True, blank=True, on_delete=models.SET_NULL, related_name="finish_items")
    what = models.CharField(max_length=300)
    who = models.CharField(max_length=200, blank=True)
    due = models.DateField(null=True, blank=True)
    by_client = models.BooleanField(default=False)
    raised_on = models.DateField()
    raised_by = models.CharField(max_length=200)
    mended_on = models.DateField(null=True, blank=True)
    mended_by = models.CharField(max_length=200, blank=True)
    answer = models.CharField(max_length=300, blank=True, help_text="What was done; the client reads it.")

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        constraints = [
            stated("finish_item", "request_key", "what", "raised_by"),
            yes_or_no("finish_item", "by_client"),
            models.CheckConstraint(
                condition=Q(by_client=True) | (~Q(who="") & Q(due__isnull=False)), name="finish_item_has_who_and_when"
            ),
            models.CheckConstraint(
                condition=Q(mended_on=None, mended_by="", answer="") | (Q(mended_on__isnull=False) & ~Q(mended_by="")),
                name="finish_item_mended_by_somebody",
            ),
        ]

    def __str__(self) -> str:
        return self.what


class FinishPhoto(KeptPicture):
    """A photo of what is to be mended."""

    item = models.ForeignKey(FinishItem, on_delete=models.PROTECT, related_name="photos")

    class Meta(KeptPicture.Meta):
        constraints = [
            *KeptPicture.checks("finish_photo"),
            models.UniqueConstraint(fields=["item", "sha256"], name="finish_photo_once_an_item"),
        ]

    def __str__(self) -> str:
        return f"Photo of {self.item_id}"
