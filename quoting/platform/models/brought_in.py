"""Who brought a row in with a job file; empty on a row that was entered here."""

from datetime import date
from typing import Any

from django.db import models


class BroughtInColumns(models.Model):
    brought_by = models.CharField("brought in by", max_length=200, blank=True, default="")
    brought_on = models.DateField("brought in on", null=True, blank=True)

    class Meta:
        abstract = True


class ConfirmedColumns(BroughtInColumns):
    """Of what releases something: it does so once somebody here has confirmed it."""

    confirmed_by = models.CharField("confirmed here by", max_length=200, blank=True, default="")
    confirmed_on = models.DateField("confirmed here on", null=True, blank=True)

    class Meta:
        abstract = True


def brought_figures(brought: Any) -> dict[str, str | date | None]:
    """brought: a core BroughtIn, or None."""
    if brought is None:
        return {"brought_by": "", "brought_on": None}
    return {"brought_by": brought.by, "brought_on": brought.on}


def confirmed_figures(brought: Any) -> dict[str, str | date | None]:
    confirmed = {"confirmed_by": "", "confirmed_on": None}
    if brought is not None:
        confirmed = {"confirmed_by": brought.confirmed_by, "confirmed_on": brought.confirmed_on}
    return brought_figures(brought) | confirmed
