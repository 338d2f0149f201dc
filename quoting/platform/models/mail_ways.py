"""By which way a mail went, on every row of a mail."""

from datetime import datetime
from typing import Any

from django.db import models

from quoting.platform.models.bounds import one_of


class MailWay(models.TextChoices):
    SERVER = "server", "Handed to the mail server"
    FOLDER = "folder", "Kept in the mail folder"
    LOG = "log", "Written to the log"


def went_by_column() -> "models.CharField[str, str]":
    return models.CharField(
        max_length=6,
        choices=MailWay.choices,
        blank=True,
        default="",
        help_text="How it went when it was sent; empty before that, and for mails of before this was noted.",
    )


class HandedOver:
    """A mail that was handed over has left by the mail server alone; of older ones nobody noted the way."""

    sent_at: "models.DateTimeField[Any, Any]"
    went_by: "models.CharField[str, str]"

    @property
    def is_kept_here(self) -> bool:
        return self.went_by in (MailWay.FOLDER, MailWay.LOG)

    @property
    def left_at(self) -> datetime | None:
        return None if self.is_kept_here else self.sent_at


class MailSentOnce(HandedOver, models.Model):
    """A paper sent to somebody once. began_at is committed before anything is handed to the mail server, so that a
    worker that dies in between leaves a doubt somebody can see, and never a second mail."""

    request_key = models.CharField(max_length=100, unique=True)
    to_address = models.CharField(max_length=254)
    message = models.TextField(blank=True)
    asked_at = models.DateTimeField()
    asked_by_name = models.CharField(max_length=200)
    began_at = models.DateTimeField(null=True, blank=True)
    sent_at = models.DateTimeField(null=True, blank=True)
    went_by = went_by_column()

    class Meta:
        abstract = True
        ordering = ["-asked_at", "-pk"]


def sent_once(table: str) -> list[models.BaseConstraint]:
    return [
        one_of(table, "went_by", ["", *MailWay.values]),
        models.CheckConstraint(
            condition=models.Q(sent_at__isnull=True) | models.Q(began_at__isnull=False),
            name=f"{table}_begun_before_sent",
        ),
    ]
