from django.db import models

from jobs.core.schedule import job_spec
from quoting.platform.models.bounds import stated
from quoting.platform.models.core_values import core_value


class Client(models.Model):
    """Who the work is for."""

    name = models.CharField(max_length=200)
    address = models.TextField(blank=True)
    email = models.CharField(max_length=254, blank=True)
    phone = models.CharField(max_length=60, blank=True)
    tax_exempt_certificate = models.TextField(
        null=True, blank=True, help_text="Its number; nothing when the client pays tax."
    )

    class Meta:
        ordering = ["name", "pk"]
        constraints = [stated("client", "name")]

    def __str__(self) -> str:
        return self.name

    def to_core(self) -> job_spec.Client:
        return core_value(job_spec.Client, self)
