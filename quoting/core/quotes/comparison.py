"""Builds of one job side by side: what each buys, takes, costs, and when it is done, against the build as it stands."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.core.ground.plain_text import half_up
from jobs.core.measure.findings import WEIGHTS, Override, Weight
from jobs.core.measure.survey import SurveyError
from jobs.core.ordering.needs import DatedNeed
from jobs.core.schedule.activities import hours_gaps
from jobs.core.takeoff.takeoff import Purchase
from quoting.core.prices.variants import Variant
from quoting.core.quotes.job_file import JobFile
from quoting.core.quotes.rebuilding import rebuild
from quoting.core.quotes.work_up import WorkUp, work_up

PRESENT = "As it stands"

RISKS: tuple[Weight, ...] = tuple(weight for weight in WEIGHTS if weight != "note")
"""Findings that are a risk; a note is only information."""


@dataclass(frozen=True)
class KindBought:
    """What a build buys of one kind of material. cost: money, None while a price is missing."""

    kind: str
    purchases: tuple[Purchase, ...]

    @property
    def cost(self) -> Decimal | None:
        """Cost of them all in money.

        >>> KindBought("board", ()).cost
        Decimal('0.00')
        """
        amounts = [purchase.cost_in_all for purchase in self.purchases]
        return None if None in amounts else sum((amount for amount in amounts if amount is not None), Decimal("0.00"))


@dataclass(frozen=True)
class Difference:
    """A line that is not as in the present build: a purchase, or the hours of a step.

    key: of the material or the step. before, after: in `unit`, None where the line is not there. cost_before,
    cost_after: money, None while a price is missing or the line is not there; hours carry none.
    """

    key: str
    name: str
    unit: str
    before: Decimal | None
    after: Decimal | None
    cost_before: Decimal | None = None
    cost_after: Decimal | None = None

    @property
    def cost(self) -> Decimal | None:
        """After less before in money, a line that is not there costing nothing; None while a price is missing.

        >>> Difference("T", "Tape", "m", None, Decimal(5), None, Decimal("9.00")).cost
        Decimal('9.00')
        """
        if (self.before is not None and self.cost_before is None) or (
            self.after is not None and self.cost_after is None
        ):
            return None
        return (self.cost_after or Decimal("0.00")) - (self.cost_before or Decimal("0.00"))


@dataclass(frozen=True)
class Build:
    """One build worked up. variant: None for the build as it stands. walls: keys of the walls it changes.

    left_behind: decisions that do not go with it. purchases, steps: what differs from the build as it stands.
    """

    name: str
    variant: Variant | None
    done: WorkUp
    walls: tuple[str, ...] = ()
    left_behind: tuple[Override, ...] = ()
    purchases: tuple[Difference, ...] = ()
    steps: tuple[Difference, ...] = ()

    @property
    def kinds(self) -> tuple[KindBought, ...]:
        """Purchases by kind of material, in the order of the takeoff."""
        purchases: dict[str, list[Purchase]] = {}
        for purchase in self.done.takeoff.purchases:
            purchases.setdefault(purchase.kind, []).append(purchase)
        return tuple(KindBought(kind, tuple(bought)) for kind, bought in purchases.items())

    @property
    def material_cost(self) -> Decimal | None:
        """Cost of all purchases in money, None while there is a gap."""
        return self.done.takeoff.cost

    @property
    def hours(self) -> float | None:
        """Hours of all steps together, None while a gap leaves some of them out."""
        if hours_gaps(self.done.plan, self.done.walls):
            return None
        return sum(activity.hours for activity in self.done.plan.activities)

    @property
    def price(self) -> Decimal | None:
        """The price before tax in money, None while it cannot be priced."""
        return self.done.quote.priced.price if self.done.quote and self.done.quote.priced else None

    @property
    def total(self) -> Decimal | None:
        """The price with its tax in money, None while it cannot be priced."""
        return self.done.quote.priced.total if self.done.quote and self.done.quote.priced else None

    @property
    def finish(self) -> date | None:
        """The day the work is done, None without a start or while a gap keeps it from being dated."""
        return self.done.plan.finish

    @property
    def long_lead(self) -> tuple[DatedNeed, ...]:
        """Items that are not stocked, with their days, those with the fewest days in hand first."""
        return tuple(need for need in self.done.needs if need.is_long_lead)

    @property
    def risks(self) -> dict[Weight, int]:
        """How many gaps, decisions and cautions it carries."""
        weights = [finding.weight for finding in self.done.findings]
        return {weight: weights.count(weight) for weight in RISKS}

    @property
    def missing(self) -> tuple[str, ...]:
        """Why a figure is not given, in sentences: every gap, a price that is not set up, a start not agreed."""
        result = [finding.sentence for finding in self.done.findings if finding.weight == "gap"]
        if self.done.quote is None:
            result.append("The job is not priced yet, so no build of it has a price.")
        if self.done.read.job.start_on is None:
            result.append("The job has no first day on site yet, so no build of it has a finish.")
        return tuple(result)


@dataclass(frozen=True)
class Comparison:
    """The build as it stands, and the others in the order asked for."""

    present: Build
    builds: tuple[Build, ...]

    @property
    def held(self) -> tuple[str, ...]:
        """What of the price does not follow the build, in sentences: costs entered by hand are the same for all.

        Empty for a job that is not priced.
        """
        pricing = self.present.done.read.pricing
        if pricing is None:
            return ()
        result = []
        if pricing.entered_materials is not None:
            result.append("The cost of materials is entered by hand: prices here do not follow what a build buys.")
        if pricing.hour_cost is None:
            result.append("Labour is not taken from the walls' hours: prices here do not follow the hours of a build.")
        elif any(cost.category == "labour" for cost in pricing.costs):
            result.append("Some labour is entered by hand: that part of a price does not follow the hours of a build.")
        return tuple(result)


def compare(
    read: JobFile, variants: Sequence[Variant], today: date, *, work: Callable[[JobFile], WorkUp] | None = None
) -> Comparison:
    """Work a job up as it stands and built other ways, and set them side by side.

    read: the job as it stands. variants: the other ways. today: the day from which prices, lead terms and days in
    hand count. work: works a job file up as of that day, None for `work_up`; the same for all, so that only the
    build differs. Returns all builds; what is missing of one is None in it and named.
    Raises DocumentError, its paths under "variants[n]", for a variant that cannot be built on this job; SurveyError
    when the walls as they stand are no walls. Source: own rule: every build goes through the one work-up.

    >>> from catalog.core.materials.catalog_data import Catalog
    >>> from catalog.core.materials.specs import Firm
    >>> from catalog.core.materials.standards import starter_standards
    >>> from jobs.core.schedule.job_spec import Client, JobSpec
    >>> book = Catalog(Firm("F", "Etc/UTC", "EUR", "metric", 3, 5), starter_standards())
    >>> compare(JobFile(book, JobSpec("J", "Job", Client("C"))), (), date(2026, 5, 4)).present.material_cost
    Decimal('0.00')
    """
    worked = work or (lambda file: work_up(file, today))
    complaints: list[DocumentProblem] = []
    rebuilt = []
    for place, variant in enumerate(variants):
        try:
            rebuilt.append((f"variants[{place}]", variant, rebuild(read, variant, f"variants[{place}]")))
        except DocumentError as error:
            complaints.extend(error.complaints)
    if complaints:
        raise DocumentError(complaints)
    present = worked(read)
    builds = []
    for path, variant, other in rebuilt:
        try:
            result = worked(other.read)
        except SurveyError as error:
            complaints.append(DocumentProblem(path, f"cannot be built: {error.field}: {error.reason}"))
            continue
        bought, steps = _purchases(present, result), _steps(present, result)
        builds.append(Build(variant.name, variant, result, other.walls, other.left_behind, bought, steps))
    if complaints:
        raise DocumentError(complaints)
    return Comparison(Build(PRESENT, None, present), tuple(builds))


def _purchases(before: WorkUp, after: WorkUp) -> tuple[Difference, ...]:
    was, now = (
        {purchase.material: purchase for purchase in purchases.takeoff.purchases} for purchases in (before, after)
    )
    differences = []
    for code in dict.fromkeys((*was, *now)):
        old, new = was.get(code), now.get(code)
        shown = new or old
        if shown is None or (old and new and (old.buy, old.cost) == (new.buy, new.cost)):
            continue
        differences.append(
            Difference(
                code,
                shown.name,
                shown.unit,
                old.buy if old else None,
                new.buy if new else None,
                old.cost if old else None,
                new.cost if new else None,
            )
        )
    return tuple(differences)


def _steps(before: WorkUp, after: WorkUp) -> tuple[Difference, ...]:
    was, now = ({activity.key: activity for activity in steps.plan.activities} for steps in (before, after))
    differences = []
    for key in dict.fromkeys((*was, *now)):
        old, new = was.get(key), now.get(key)
        shown = new or old
        hours = [None if activity is None else half_up(Decimal(repr(activity.hours)), 1) for activity in (old, new)]
        if shown is not None and hours[0] != hours[1]:
            differences.append(Difference(key, shown.name, "h", hours[0], hours[1]))
    return tuple(differences)
