"""The approval a revision was issued on. Only ever added to: see quoting/platform/immutable_tables.py."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from quoting.pricing.models import MarginApproval
from quoting.quotes.models.quotes import QuoteRevision


class RevisionApproval(models.Model):
    """The approval a revision was issued on: by somebody other than who issued it."""

    revision = models.OneToOneField(QuoteRevision, on_delete=models.PROTECT, related_name="margin_approval")
    approval = models.ForeignKey(MarginApproval, on_delete=models.PROTECT, related_name="revisions")
    issued_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    approved_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = [
            models.CheckConstraint(condition=~Q(issued_by=F("approved_by")), name="revision_approval_by_two_people")
        ]

    def __str__(self) -> str:
        return f"{self.revision}: {self.approval}"
