"""The field check of a stored wall: what was found on site beside what was quoted."""

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from catalog.core.ground.units import System
from catalog.core.materials.catalog_data import Catalog
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.ordering.wall_moves import WallMoves, wall_moves
from jobs.core.takeoff.field_check import FieldCheck, compare_takeoffs
from jobs.deliveries.services.ordered_pieces import ordered_pieces
from jobs.walls.models import Wall
from jobs.walls.services.field_confirmation import refuse_impossible
from quoting.changes.services.contracts import agreed_job_file
from quoting.core.quotes.job_file import JobFile, PricingSpec
from quoting.core.quotes.work_up import WorkUp
from quoting.job_files.services.job_files import job_file_to_work_up
from quoting.quotes.models import QuoteRevision, RevisionState


@dataclass(frozen=True)
class QuotedWall:
    """book: the catalog it was quoted by, None for a wall that stands in no quote. said: where it comes from."""

    spec: WallSpec
    book: Catalog | None
    said: str


@dataclass(frozen=True)
class SiteCheck:
    """Prices are of the whole job before tax, None while one cannot be given; `unpriced` then says why."""

    quoted: QuotedWall
    moves: WallMoves
    moved: FieldCheck
    quoted_price: Decimal | None
    confirmed_price: Decimal | None
    unpriced: str
    held: tuple[str, ...]
    currency: str
    system: System

    @property
    def price_difference(self) -> Decimal | None:
        if self.quoted_price is None or self.confirmed_price is None:
            return None
        return self.confirmed_price - self.quoted_price


def quoted_wall(wall: Wall) -> QuotedWall:
    """As in the latest revision that was not withdrawn, with the changes signed since; else as it is stored."""
    revisions = QuoteRevision.objects.select_related("quote__job").filter(quote__job=wall.job_id)
    revision = revisions.exclude(state=RevisionState.WITHDRAWN).order_by("-number").first()
    if revision is None:
        return QuotedWall(wall.to_core(), None, "as it is stored: no quote has been issued")
    read = agreed_job_file(revision)
    spec = next((entry for entry in read.job.walls if entry.key == wall.key), None)
    if spec is None:
        return QuotedWall(wall.to_core(), None, f"as it is stored: {revision} does not hold this wall")
    signed = ", with the changes signed since" if revision.state == RevisionState.ACCEPTED else ""
    return QuotedWall(spec, read.book, f"as in {revision}{signed}")


def check_on_site(wall: Wall, confirmed: WallSpec, quoted: QuotedWall, today: date) -> SiteCheck:
    """The job with the wall as quoted beside the job with it as confirmed: one catalog, one day, one way of pricing.

    Nothing is stored. Raises DocumentError for a wall that cannot stand, SurveyError for figures that give none.
    """
    refuse_impossible(confirmed)
    read, work = job_file_to_work_up(wall.job, today)
    if quoted.book is not None:
        # What the catalog no longer holds is taken as it was quoted.
        materials = {**quoted.book.materials, **read.book.materials}
        suppliers = {**quoted.book.suppliers, **read.book.suppliers}
        read = replace(read, book=replace(read.book, materials=materials, suppliers=suppliers))
    before, after = (work(_with_wall(read, spec)) for spec in (quoted.spec, confirmed))
    moved = compare_takeoffs(before.takeoff, after.takeoff)
    was, now = (next(entry for entry in work_up.walls if entry.spec.key == wall.key) for work_up in (before, after))
    ordered, materials = ordered_pieces(wall.job_id), read.book.materials
    return SiteCheck(
        quoted,
        wall_moves(was, now, ordered, materials, quantities_move=quoted.book is not None and bool(moved.lines)),
        moved,
        _price(before),
        _price(after),
        _unpriced(before, "as quoted") or _unpriced(after, "as confirmed"),
        _held(read.pricing),
        read.book.firm.currency,
        read.book.firm.display_units,
    )


def _with_wall(read: JobFile, spec: WallSpec) -> JobFile:
    walls = tuple(spec if wall.key == spec.key else wall for wall in read.job.walls)
    return replace(read, job=replace(read.job, walls=walls))


def _price(work_up: WorkUp) -> Decimal | None:
    return work_up.quote.priced.price if work_up.quote and work_up.quote.priced else None


def _unpriced(work_up: WorkUp, which: str) -> str:
    if work_up.quote is None:
        return "The job is not priced yet."
    if work_up.quote.priced is not None:
        return ""
    gaps = [finding.sentence for finding in work_up.quote.findings if finding.weight == "gap"]
    return f"The job cannot be priced with the wall {which}. {gaps[0] if gaps else 'Its quote says what is missing.'}"


def _held(pricing: PricingSpec | None) -> tuple[str, ...]:
    """What of the price stays as it is, whatever the wall takes: costs entered by hand."""
    result = []
    if pricing is not None and pricing.entered_materials is not None:
        result.append("The cost of materials is entered by hand: the price does not follow what is bought.")
    if pricing is not None and pricing.hour_cost is None:
        result.append("Labour is not taken from the walls' hours: the price does not follow the hours.")
    return tuple(result)
