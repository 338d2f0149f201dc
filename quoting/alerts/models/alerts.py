"""Alerts about order-by days, the mails they are told in, and the list of the week."""

from datetime import time

from django.conf import settings
from django.core.validators import RegexValidator
from django.db import models
from django.db.models import F, Q

from catalog.core.ground.day_words import day_words
from jobs.core.ordering.alerts import DECIDE, DUE, LATE
from jobs.core.ordering.deviations import KINDS, LABELS
from jobs.jobs.models import Job
from jobs.orders.models import OrderLine
from quoting.client.models import ClientQuestion
from quoting.platform.models.bounds import one_of, stated, yes_or_no
from quoting.platform.models.mail_ways import MailWay, went_by_column

THRESHOLD = rf"^([1-9]|[1-5][0-9]|60|{DUE}|{LATE}|{DECIDE})$"
DAYS_AHEAD = r"^[0-9]{1,2}(, [0-9]{1,2}){0,5}$"


class AlertTimes(models.Model):
    """When the firm wants to hear of order-by days: one row, made when somebody changes the usual."""

    ONLY_ID = 1

    id = models.PositiveSmallIntegerField(primary_key=True, default=ONLY_ID, editable=False)
    days_ahead = models.CharField(max_length=40, default="10, 5, 1", validators=[RegexValidator(DAYS_AHEAD)])
    list_at = models.TimeField(default=time(7))

    class Meta:
        verbose_name_plural = "alert times"
        constraints = [
            models.CheckConstraint(condition=Q(id=1), name="alert_times_are_one"),
            models.CheckConstraint(condition=Q(days_ahead__regex=DAYS_AHEAD), name="alert_times_days_ahead_are_days"),
        ]

    def __str__(self) -> str:
        return f"{self.days_ahead} days ahead, list at {self.list_at}"


class MailWish(models.Model):
    """What mail from here a person wants, and where to."""

    person = models.OneToOneField(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="mail_wish")
    address = models.EmailField(max_length=254, blank=True)
    alerts = models.BooleanField(default=False)
    weekly_list = models.BooleanField(default=False)
    set_at = models.DateTimeField()

    class Meta:
        constraints = [
            yes_or_no("mail_wish", "alerts"),
            yes_or_no("mail_wish", "weekly_list"),
            models.CheckConstraint(
                condition=Q(alerts=False, weekly_list=False) | ~Q(address=""), name="mail_wish_has_an_address"
            ),
        ]

    def __str__(self) -> str:
        return f"Mail to {self.address}"


class Alert(models.Model):
    """One alert that came up: the row is what makes it come once. batch: the round in which its mails were asked for.

    day: the order-by day; for `decide` the decide-by day. told: whether it says anything; what came up beside a
    tighter one of the same item does not.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="alerts")
    material = models.CharField(max_length=60)
    name = models.CharField(max_length=200, help_text="The item's name as of then.")
    day = models.DateField()
    threshold = models.CharField(max_length=6)
    due_on = models.DateField()
    came_up_at = models.DateTimeField()
    told = models.BooleanField(default=True)
    batch = models.CharField(max_length=32, blank=True)

    class Meta:
        ordering = ["day", "pk"]
        indexes = [models.Index(fields=["batch"], name="alert_batch")]
        constraints = [
            models.UniqueConstraint(fields=["job", "material", "day", "threshold"], name="alert_comes_up_once"),
            stated("alert", "material", "name"),
            yes_or_no("alert", "told"),
            models.CheckConstraint(condition=Q(threshold__regex=THRESHOLD), name="alert_threshold_is_known"),
        ]

    def __str__(self) -> str:
        return f"{self.name}, {self.threshold} at {day_words(self.day)}"


class DeviationAlert(models.Model):
    """Something of an order line that went otherwise than ordered. While it stands there is one row, so that it is told
    once; ended_at: when it was first seen to have ended. What comes back is told anew. batch: as of `Alert`.
    """

    line = models.ForeignKey(OrderLine, on_delete=models.CASCADE, related_name="deviation_alerts")
    kind = models.CharField(max_length=13)
    mark = models.CharField(max_length=200)
    came_up_at = models.DateTimeField()
    ended_at = models.DateTimeField(null=True, blank=True)
    batch = models.CharField(max_length=32, blank=True)

    class Meta:
        ordering = ["came_up_at", "pk"]
        indexes = [models.Index(fields=["batch"], name="deviation_alert_batch")]
        constraints = [
            models.UniqueConstraint(
                fields=["line", "kind", "mark"],
                condition=Q(ended_at__isnull=True),
                name="deviation_alert_comes_up_once",
            ),
            stated("deviation_alert", "mark"),
            one_of("deviation_alert", "kind", KINDS),
        ]

    def __str__(self) -> str:
        return f"{LABELS[self.kind]} of line {self.line_id}"  # type: ignore[index]


class AlertMail(models.Model):
    """What came up together, told to one person once. began_at is committed before the mail server is spoken to."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="alert_mails")
    batch = models.CharField(max_length=32)
    alerts = models.ManyToManyField(Alert, related_name="mails")
    deviations = models.ManyToManyField(DeviationAlert, related_name="mails")
    questions = models.ManyToManyField(ClientQuestion, related_name="mails")
    asked_at = models.DateTimeField()
    began_at = models.DateTimeField(null=True, blank=True)
    sent_at = models.DateTimeField(null=True, blank=True)
    went_by = went_by_column()

    class Meta:
        ordering = ["-asked_at", "-pk"]
        constraints = [
            models.UniqueConstraint(fields=["person", "batch"], name="alert_mail_once_a_person_and_batch"),
            stated("alert_mail", "batch"),
            one_of("alert_mail", "went_by", ["", *MailWay.values]),
            models.CheckConstraint(
                condition=Q(sent_at__isnull=True) | Q(began_at__isnull=False), name="alert_mail_begun_before_sent"
            ),
        ]

    def __str__(self) -> str:
        return f"Alerts of {self.asked_at} to {self.person}"


class WeeklyMail(models.Model):
    """The list of one week to one person, once. week: its Monday."""

    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="weekly_mails")
    week = models.DateField()
    asked_at = models.DateTimeField()
    began_at = models.DateTimeField(null=True, blank=True)
    sent_at = models.DateTimeField(null=True, blank=True)
    went_by = went_by_column()

    class Meta:
        ordering = ["-week", "-pk"]
        constraints = [
            models.UniqueConstraint(fields=["person", "week"], name="weekly_mail_once_a_person_and_week"),
            one_of("weekly_mail", "went_by", ["", *MailWay.values]),
            models.CheckConstraint(
                condition=Q(sent_at__isnull=True) | Q(began_at__isnull=False), name="weekly_mail_begun_before_sent"
            ),
        ]

    def __str__(self) -> str:
        return f"List of the week of {self.week} to {self.person}"


class AlertTrouble(models.Model):
    """An item of which no alert can be worked out, for as long as that is so."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="alert_troubles")
    material = models.CharField(max_length=60)
    sentence = models.TextField()
    since = models.DateTimeField()
    seen_at = models.DateTimeField()

    class Meta:
        ordering = ["since", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["job", "material"], name="alert_trouble_once_an_item"),
            stated("alert_trouble", "material", "sentence"),
            models.CheckConstraint(condition=Q(seen_at__gte=F("since")), name="alert_trouble_seen_after_it_began"),
        ]

    def __str__(self) -> str:
        return f"{self.material} of job {self.job_id}: {self.sentence}"
