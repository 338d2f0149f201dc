"""An acceptance taken back within its cancellation window: kept as it was given, frozen by the database."""

from django.db import models
from django.db.models import Q

from quoting.platform.models.bounds import one_of, stated
from quoting.quotes.models.answers import ClientAnswer
from quoting.quotes.models.bases import Statement


class TakeBackWay(models.TextChoices):
    PAGE = "page", "On the client's page"
    LETTER = "letter", "By letter, or by hand"
    MAIL = "mail", "By mail"
    SPOKEN = "spoken", "By word of mouth"


class TakeBack(Statement):
    """That an acceptance was taken back: by whom, on which day, by which way, from where, and why."""

    answer = models.OneToOneField(ClientAnswer, on_delete=models.PROTECT, related_name="taken_back")
    way = models.CharField(max_length=6, choices=TakeBackWay.choices)
    given_on = models.DateField(help_text="The day the client gave notice, in the firm's time zone.")
    kept_at = models.DateTimeField()

    class Meta:
        ordering = ["-kept_at", "-pk"]
        constraints = [
            one_of("take_back", "way", TakeBackWay.values),
            stated("take_back", "typed_name"),
            models.CheckConstraint(
                condition=Q(way="page", entered_by_name="") | (~Q(way="page") & ~Q(entered_by_name="") & ~Q(reason="")),
                name="take_back_was_entered_by_someone_with_a_reason",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.answer.revision} cancelled by {self.typed_name}"
