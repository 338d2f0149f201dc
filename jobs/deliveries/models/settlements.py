from django.db import models

from jobs.orders.models.orders import OrderLine
from quoting.platform.models.bounds import one_of, stated


class Settlement(models.TextChoices):
    ACCEPTED = "accepted", "Accepted as it is"
    ASKED_AGAIN = "asked_again", "The supplier was asked again"


class SettledDeviation(models.Model):
    """What somebody settled of what goes otherwise than ordered. Never changed: what holds again is settled again.

    mark: of the fact, as `jobs.core.ordering.deviations` makes it. need_by: the day the line was needed then.
    """

    line = models.ForeignKey(OrderLine, on_delete=models.CASCADE, related_name="settlements")
    mark = models.CharField(max_length=200)
    how = models.CharField(max_length=11, choices=Settlement.choices)
    settled_on = models.DateField()
    need_by = models.DateField(null=True, blank=True)
    reason = models.TextField(blank=True)
    entered_at = models.DateTimeField()
    entered_by_name = models.CharField(max_length=200)

    class Meta:
        ordering = ["entered_at", "pk"]
        constraints = [
            stated("settled_deviation", "mark", "entered_by_name"),
            one_of("settled_deviation", "how", Settlement.values),
            models.CheckConstraint(
                condition=~models.Q(how="accepted") | ~models.Q(reason=""), name="settled_deviation_accepted_says_why"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.mark}: {self.how} by {self.entered_by_name}"
