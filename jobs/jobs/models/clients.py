from django.db import models

from jobs.core.schedule import job_spec
from quoting.platform.models.bounds import stated


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
        return job_spec.Client(self.name, self.address, self.email, self.phone, self.tax_exempt_certificate)
