from django.db import models

from jobs.jobs.models import Job
from quoting.core.life.facts import JobFacts
from quoting.core.life.facts_document import read_facts
from quoting.core.life.stations import END_WORDS, STATIONS
from quoting.platform.models.bounds import one_of


class KeptLife(models.Model):
    """The facts of one job's life, as they stand. station, ended, next_by: as of `kept_on`, right until `turns_on`."""

    # Without a constraint: PostgreSQL would lock the job whenever a transaction writes its row twice, and whoever holds
    # the job already waits for the row.
    job = models.OneToOneField(
        Job, primary_key=True, on_delete=models.CASCADE, related_name="life", db_constraint=False
    )
    facts = models.JSONField(default=dict)
    station = models.CharField(max_length=10, default="enquiry")
    ended = models.CharField(max_length=10, blank=True, help_text="What stopped it; empty while it goes on.")
    next_by = models.DateField(null=True, blank=True, help_text="The day the next step is due.")
    turns_on = models.DateField(null=True, blank=True, help_text="The day time alone may change these.")
    kept_at = models.DateTimeField(null=True, blank=True, db_index=True, help_text="When a fact was written last.")
    kept_on = models.DateField(null=True, blank=True, help_text="The firm's day they were worked out on.")

    class Meta:
        verbose_name_plural = "kept lives"
        indexes = [models.Index(fields=["next_by", "ended"], name="kept_life_next_by")]
        constraints = [
            one_of("kept_life", "station", STATIONS),
            one_of("kept_life", "ended", ["", *END_WORDS]),
        ]

    def __str__(self) -> str:
        return f"{self.job_id}: {self.station}"

    def to_core(self) -> JobFacts:
        return read_facts(self.facts)
