from django.db import models
from django.db.models.functions import Lower
from simple_history.models import HistoricalRecords

from catalog.core.ground.day_words import day_words
from jobs.core.takeoff import held_templates
from jobs.core.takeoff.held_templates import STATE_WORDS, TEMPLATE_STATES
from jobs.jobs.models.jobs import Job
from quoting.platform.models.bounds import between, one_of, stated
from quoting.platform.models.core_values import core_value


class HeldTemplate(models.Model):
    """A template traced from a framed wall. It is never forgotten: what became of it is kept as well."""

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="templates")
    name = models.CharField(max_length=100, help_text="What is written on it.")
    shape = models.CharField(max_length=500, help_text="The shape it holds.")
    # By their names: a wall or a run may be entered anew, and the template still exists.
    wall_key = models.CharField(max_length=40)
    line = models.CharField(max_length=100, blank=True, help_text="The run of trim it is for.")
    piece = models.PositiveSmallIntegerField(null=True, blank=True)
    traced_by = models.CharField(max_length=200)
    traced_on = models.DateField()

    history = HistoricalRecords()

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint("job", Lower("name"), name="template_name_once_a_job"),
            stated("held_template", "name", "shape", "wall_key", "traced_by"),
            between("held_template", "piece", 1, 200),
        ]

    def __str__(self) -> str:
        return self.name

    def to_core(self) -> held_templates.HeldTemplate:
        moves = tuple(move.to_core() for move in self.moves.all())
        return core_value(held_templates.HeldTemplate, self, wall=self.wall_key, moves=moves)


class TemplateMove(models.Model):
    """What became of a template on a day, and where it is from then on."""

    template = models.ForeignKey(HeldTemplate, on_delete=models.CASCADE, related_name="moves")
    state = models.CharField(max_length=8, choices=list(STATE_WORDS.items()))
    on = models.DateField()
    by = models.CharField(max_length=200)
    kept_at = models.CharField(max_length=200, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["on", "pk"]
        constraints = [
            one_of("template_move", "state", TEMPLATE_STATES),
            stated("template_move", "by"),
            models.CheckConstraint(
                condition=models.Q(state="lost") | ~models.Q(kept_at=""), name="template_move_says_where"
            ),
        ]

    def __str__(self) -> str:
        return f"{STATE_WORDS[self.state]}, {day_words(self.on)}"  # type: ignore[index]

    def to_core(self) -> held_templates.TemplateMove:
        return core_value(held_templates.TemplateMove, self)
