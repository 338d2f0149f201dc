"""What the firm says on every quote: standing sentences with their days, and notices by place, language and version."""

from django.db import models
from django.db.models import F, Q
from simple_history.models import HistoricalRecords

from quoting.core.quotes import firm_texts as core
from quoting.platform.models.bounds import MAX_POSITION, between, one_of, stated, yes_or_no
from quoting.platform.models.core_values import core_value

BLOCKS = core.BLOCKS
BLOCK_CHOICES = [(block, core.HEADINGS[block]) for block in BLOCKS]


def ends_after_it_starts(table: str) -> models.CheckConstraint:
    return models.CheckConstraint(
        condition=Q(ends_on__isnull=True) | Q(ends_on__gte=F("starts_on")), name=f"{table}_ends_after_it_starts"
    )


class StandardText(models.Model):
    """One wording of a standing sentence; a later wording has the same key and a later first day."""

    key = models.CharField(max_length=core.MAX_KEY)
    block = models.CharField(max_length=11, choices=BLOCK_CHOICES)
    order = models.PositiveSmallIntegerField(default=0)
    text = models.TextField()
    starts_on = models.DateField()
    ends_on = models.DateField(null=True, blank=True, help_text="The last day it holds; empty while it holds on.")

    history = HistoricalRecords()

    class Meta:
        ordering = ["block", "order", "key", "starts_on"]
        constraints = [
            models.UniqueConstraint(fields=["key", "starts_on"], name="standard_text_once_a_key_and_day"),
            one_of("standard_text", "block", BLOCKS),
            between("standard_text", "order", 0, MAX_POSITION),
            stated("standard_text", "key", "text"),
            ends_after_it_starts("standard_text"),
        ]

    def __str__(self) -> str:
        return self.text

    def to_core(self) -> core.StandardText:
        return core_value(core.StandardText, self)


class NoticePlace(models.Model):
    """A place of work as the firm calls it, and whether the firm sends no quote there without a notice."""

    name = models.CharField(max_length=core.MAX_PLACE, unique=True)
    requires_notice = models.BooleanField(default=False)

    history = HistoricalRecords()

    class Meta:
        ordering = ["name"]
        constraints = [stated("notice_place", "name"), yes_or_no("notice_place", "requires_notice")]

    def __str__(self) -> str:
        return self.name


class NoticePack(models.Model):
    """One version of a place's notice in one language, as the firm has entered it on its adviser's word."""

    place = models.ForeignKey(NoticePlace, on_delete=models.PROTECT, related_name="notices")
    language = models.CharField(max_length=40)
    version = models.CharField(max_length=60)
    title = models.CharField(max_length=200)
    text = models.TextField()
    source = models.TextField(blank=True, help_text="Who gave the wording, and when.")
    starts_on = models.DateField()
    ends_on = models.DateField(null=True, blank=True)

    history = HistoricalRecords()

    class Meta:
        ordering = ["place__name", "language", "starts_on"]
        constraints = [
            models.UniqueConstraint(fields=["place", "language", "starts_on"], name="notice_once_a_place_and_day"),
            models.UniqueConstraint(fields=["place", "language", "version"], name="notice_version_once_a_place"),
            stated("notice_pack", "language", "version"),
            stated("notice_pack", "title", "text"),
            ends_after_it_starts("notice_pack"),
        ]

    def __str__(self) -> str:
        return f"{self.place}, {self.language}, version {self.version}"

    def to_core(self) -> core.NoticePack:
        return core_value(core.NoticePack, self, place=self.place.name)


class TextLeftOut(models.Model):
    """A standing sentence that does not go on one job's quote."""

    pricing = models.ForeignKey("quoting.Pricing", on_delete=models.CASCADE, related_name="left_out")
    order = models.PositiveSmallIntegerField()
    key = models.CharField(max_length=core.MAX_KEY)

    history = HistoricalRecords()

    class Meta:
        ordering = ["order", "pk"]
        constraints = [
            models.UniqueConstraint(fields=["pricing", "key"], name="text_left_out_once"),
            between("text_left_out", "order", 0, MAX_POSITION),
            stated("text_left_out", "key"),
        ]

    def __str__(self) -> str:
        return self.key
