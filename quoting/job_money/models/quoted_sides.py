import json
from functools import cached_property

from django.db import models

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import Reader
from quoting.core.money.quoted import QuotedCost
from quoting.core.prices.overhead import OverheadRule
from quoting.platform.models.bounds import between, stated
from quoting.pricing.models.totals import MAX_TOTAL, total_column
from quoting.quotes.models import QuoteRevision


class QuotedSide(models.Model):
    """What an accepted quote costs, as rows with items and quantities; frozen like the quote it is read from.

    price: accepted, before tax, with the options taken. lines, overhead: as `quoted_document.py` writes them.
    """

    revision = models.OneToOneField(QuoteRevision, on_delete=models.PROTECT, related_name="quoted_side")
    price = total_column()
    lines = models.TextField()
    overhead = models.TextField(default="null")
    made_at = models.DateTimeField()

    class Meta:
        constraints = [
            between("quoted_side", "price", 0, MAX_TOTAL),
            stated("quoted_side", "lines", "overhead"),
        ]

    def __str__(self) -> str:
        return f"Cost of {self.revision}"

    @cached_property
    def quoted(self) -> tuple[QuotedCost, ...]:
        return tuple(read(QuotedCost, Reader(line)) for line in json.loads(self.lines))

    @cached_property
    def overhead_rule(self) -> OverheadRule | None:
        written = json.loads(self.overhead)
        return written and read(OverheadRule, Reader(written))
