from django.db import models
from django.db.models import Q

from jobs.jobs.models import Job
from quoting.platform.models.bounds import SHA256


class StoredPrice(models.Model):
    """What pages say of a job's price, as it was last worked out, for those who price alone.

    The document is JSON as text, `null` where the job is not priced.
    """

    job = models.OneToOneField(Job, primary_key=True, on_delete=models.CASCADE, related_name="stored_price")
    mark = models.CharField(max_length=64, help_text="Over all it rests on, the day among it.")
    on = models.DateField(help_text="The firm's day it was worked out on.")
    document = models.TextField()

    class Meta:
        constraints = [models.CheckConstraint(condition=Q(mark__regex=SHA256), name="stored_price_mark_is_sha256")]

    def __str__(self) -> str:
        return f"price of job {self.job_id} on {self.on.isoformat()}"
