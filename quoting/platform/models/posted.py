"""Columns of money and hours: the true day, the month they count in, and how a row is voided instead of deleted."""

from django.db import models
from django.db.models import Q


class Posted(models.Model):
    """posted_month: the first day of the month it counts in, as `month_to_post` gives it. It never changes."""

    day = models.DateField(help_text="The true day.")
    posted_month = models.DateField(db_index=True, help_text="First day of the month it counts in.")

    class Meta:
        abstract = True


class Voidable(models.Model):
    """Nothing of money is deleted: it is voided under a name, with a reason, and counts for nothing."""

    voided_at = models.DateTimeField(null=True, blank=True)
    voided_by_name = models.CharField(max_length=200, blank=True)
    void_reason = models.CharField(max_length=300, blank=True)

    class Meta:
        abstract = True


def first_of_month(table: str, column: str = "posted_month") -> models.CheckConstraint:
    return models.CheckConstraint(condition=Q(**{f"{column}__day": 1}), name=f"{table}_{column}_is_a_first")


def voided_says_why(table: str) -> models.CheckConstraint:
    voided = Q(voided_at__isnull=False) & ~Q(voided_by_name="") & ~Q(void_reason="")
    return models.CheckConstraint(
        condition=Q(voided_at__isnull=True, voided_by_name="", void_reason="") | voided, name=f"{table}_voided_says_why"
    )
