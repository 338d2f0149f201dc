from django.conf import settings
from django.db import models
from django.db.models import prefetch_related_objects
from simple_history.models import HistoricalRecords

from jobs.core.schedule.job_spec import FIRST_SEED, MAX_SEED, JobSpec
from jobs.core.takeoff.job_plans import JobPlans
from jobs.jobs.models.clients import Client
from quoting.platform.models.bounds import between, stated
from quoting.platform.models.core_values import core_value

WALL_PARTS = (
    "pieces",
    "heights",
    "openings",
    "layers",
    "trims",
    "kit_entries",
    "overrides",
    "readings",
    "leans",
    "marks",
    "site_surveys",
    "baseline_offsets",
    "room_ties",
)
JOB_PARTS = (
    "closures",
    "item_dates",
    "items",
    "activity_changes",
    "own_activities",
    "activity_links",
    "people",
    "actual_days",
    "overrides",
    "templates",
    "plans",
    "on_hand",
    "walls",
)
EVERY_PART = ("client", *JOB_PARTS, "templates__moves", *(f"walls__{part}" for part in WALL_PARTS))


class Job(models.Model):
    """One piece of work for one client."""

    key = models.CharField(max_length=40, unique=True)
    title = models.CharField(max_length=200)
    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="jobs")
    site_address = models.TextField(blank=True)
    purchase_order = models.CharField(max_length=60, blank=True, help_text="The client's number for what it ordered.")
    start_on = models.DateField(null=True, blank=True, help_text="First working day on site.")
    crew = models.PositiveSmallIntegerField(default=2)
    promised_on = models.DateField(null=True, blank=True, help_text="The day the work is promised to be done on site.")
    chance_seed = models.PositiveIntegerField(default=FIRST_SEED, help_text="From which the chance of that is drawn.")
    note = models.TextField(blank=True)
    closed_on = models.DateField(null=True, blank=True, help_text="The day it was closed; open until then.")
    version = models.PositiveIntegerField(default=1, help_text="Rises with every change of the job itself.")
    created_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    created_at = models.DateTimeField()

    history = HistoricalRecords()

    class Meta:
        ordering = ["-created_at", "-pk"]
        constraints = [
            stated("job", "key", "title"),
            between("job", "crew", 1, 50),
            between("job", "chance_seed", 1, MAX_SEED),
            between("job", "version", 1, 1_000_000_000),
        ]

    def __str__(self) -> str:
        return f"{self.key} {self.title}"

    @property
    def changes_job(self) -> int:
        """The id of the job that a change of this row changes."""
        return self.pk

    def to_core(self) -> JobSpec:
        """The job with all its walls, in a number of queries that does not grow with it."""
        prefetch_related_objects([self], *EVERY_PART)
        return core_value(
            JobSpec,
            self,
            client=self.client.to_core(),
            closures=tuple(closure.to_core() for closure in self.closures.all()),
            walls=tuple(wall.to_core() for wall in self.walls.all()),
            dates=tuple(date.to_core() for date in self.item_dates.all()),
            activities=tuple(change.to_core() for change in self.activity_changes.all()),
            overrides=tuple(override.to_core() for override in self.overrides.all() if override.wall_id is None),
            templates=tuple(template.to_core() for template in self.templates.all()),
            plans=self._plans(),
            own_activities=tuple(activity.to_core() for activity in self.own_activities.all()),
            links=tuple(link.to_core() for link in self.activity_links.all()),
            items=tuple(item.to_core() for item in self.items.all()),
            people=tuple(person.to_core() for person in self.people.all()),
            actual_days=tuple(day.to_core() for day in self.actual_days.all()),
        )

    def _plans(self) -> JobPlans:
        chosen = {plan.what: plan.to_core() for plan in self.plans.all()}
        on_hand = tuple(entry.to_core() for entry in self.on_hand.all())
        return JobPlans(chosen.get("boards"), chosen.get("sticks"), on_hand)

    def forget_parts(self) -> None:
        """After a change by other means, so that the next `to_core` reads the rows anew."""
        self._prefetched_objects_cache = {}
