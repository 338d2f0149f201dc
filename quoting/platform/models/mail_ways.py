"""By which way a mail went, on every row of a mail."""

from datetime import datetime
from typing import Any

from django.db import models


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
