from dataclasses import replace
from typing import Any

from django.db import models
from django.db.models import Q
from simple_history.models import HistoricalRecords

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import Reader
from jobs.core.boards.chosen_board_plan import KeptBoards
from jobs.core.takeoff.cut_list import KeptSticks
from jobs.jobs.models.jobs import Job
from quoting.platform.models.bounds import between, stated
from quoting.platform.models.brought_in import BroughtInColumns


class PlanOf(models.TextChoices):
    BOARDS = "boards", "Boards"
    STICKS = "sticks", "Sticks"


class FoundPlan(models.Model):
    """A plan as it was found and checked, nobody's choice yet. mark: of what it was made for."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="found_plans")
    what = models.CharField(max_length=6, choices=PlanOf.choices)
    mark = models.CharField(max_length=64)
    document = models.JSONField()
    seconds = models.PositiveIntegerField(help_text="How long it was looked for.")
    found_at = models.DateTimeField()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["job", "what", "mark"], name="found_plan_once_a_mark"),
            models.CheckConstraint(condition=Q(what__in=PlanOf.values), name="found_plan_is_of_something"),
            stated("foundplan", "mark"),
            between("foundplan", "seconds", 0, 86_400),
        ]

    def __str__(self) -> str:
        return f"{self.job}: {self.get_what_display().lower()}, found {self.found_at}"


class ChosenPlan(BroughtInColumns):
    """The plan a named person chose to cut and buy the job by."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="plans")
    what = models.CharField(max_length=6, choices=PlanOf.choices)
    document = models.JSONField()
    by = models.CharField(max_length=200)
    on = models.DateField()

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["job", "what"], name="chosen_plan_once_a_job"),
            models.CheckConstraint(condition=Q(what__in=PlanOf.values), name="chosen_plan_is_of_something"),
            stated("chosenplan", "by"),
        ]

    def __str__(self) -> str:
        return f"{self.get_what_display()}: chosen by {self.by}, {day_words(self.on)}"

    def to_core(self) -> KeptBoards | KeptSticks:
        return replace(plan_of(self.what, self.document), by=self.by, on=self.on)


def plan_of(what: str, document: Any) -> KeptBoards | KeptSticks:
    reader = Reader(document, path=f"plans.{what}", bare_unit="mm")
    return read(KeptBoards, reader) if what == PlanOf.BOARDS else read(KeptSticks, reader)
