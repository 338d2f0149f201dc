"""What may be offered in the place of a material of the agreed walls, with its price and lead days."""

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from catalog.core.ground.document_reader import DocumentError
from catalog.core.leads.lead_times import lead_workdays, term_in_force
from catalog.core.leads.planned_leads import planned_in_force
from catalog.core.materials.specs import Material
from catalog.models import Material as Row
from jobs.jobs.models import Job
from quoting.changes.services.change_drafts import agreed_revision
from quoting.changes.services.contracts import agreed_job_file
from quoting.core.changes.stand_ins import StandIn, stand_in, stand_ins
from quoting.core.quotes.job_file import JobFile
from quoting.job_files.services.job_files import job_file_of


@dataclass(frozen=True)
class Offered:
    """price: the least of a unit used on the day; lead_workdays: as planned, else as quoted; None where not known."""

    stand_in: StandIn
    price: Decimal | None
    lead_workdays: int | None

    @property
    def material(self) -> Material:
        return self.stand_in.material


@dataclass(frozen=True)
class Choices:
    """material: whose place it is. offered: what fits. left_out: of the same kind and not offered, with the reason."""

    material: str
    offered: tuple[Offered, ...]
    left_out: tuple[StandIn, ...]

    @property
    def sentence(self) -> str:
        """How many are not offered and why; empty where all are."""
        counts = {why: sum(entry.why == why for entry in self.left_out) for why in WHY_WORDS}
        message = ", ".join(f"{count} {WHY_WORDS[why]}" for why, count in counts.items() if count)
        return f"Not offered: {message}." if message else ""


WHY_WORDS = {
    "other_use": "for another use",
    "other_form": "not sold in this grade",
    "too_tight": "too stiff for these curves",
    "not_known": "not known to fit",
}


def choices_of(job: Job, material: str, today: date) -> Choices:
    """What may take a material's place on the walls as agreed. Raises Refused while nothing is agreed."""
    in_use = set(Row.objects.filter(active=True).values_list("code", flat=True))
    choices = [entry for entry in stand_ins(agreed_today(job, today), material) if entry.material.code in in_use]
    offered = tuple(
        Offered(entry, _price(entry.material, today), _lead_workdays(entry.material, today))
        for entry in choices
        if entry.why == "fits"
    )
    return Choices(material, offered, tuple(entry for entry in choices if entry.why != "fits"))


def agreed_today(job: Job, today: date) -> JobFile:
    """The walls as agreed, with the job's pricing and the catalog of the day; what that no longer holds as it was."""
    agreed, present = agreed_job_file(agreed_revision(job)), job_file_of(job, today)
    materials = {**agreed.book.materials, **present.book.materials}
    book = replace(present.book, materials=materials, suppliers={**agreed.book.suppliers, **present.book.suppliers})
    return replace(present, book=book, job=replace(present.job, walls=agreed.job.walls))


def refuse_unfit(read: JobFile, material: str, instead: str) -> None:
    """Raises DocumentError for a material that would not be offered, with the reason."""
    own, other = read.book.materials.get(material), read.book.materials.get(instead)
    if own is not None and other is not None and own.kind == other.kind:
        result = stand_in(read, own, other)
        if result.why != "fits":
            raise DocumentError.at("instead", f"cannot take its place. {result.sentence}")


def _price(material: Material, today: date) -> Decimal | None:
    prices = [(pack.price_on(today), pack.quantity) for pack in material.packs]
    return min((price.amount / quantity for price, quantity in prices if price is not None), default=None)


def _lead_workdays(material: Material, today: date) -> int | None:
    term, planned = term_in_force(material.lead_terms, today), planned_in_force(material.planned_leads, today)
    if term is None:
        return None
    is_planned = planned is not None and planned.holds_for(term, material.supplier)
    return planned.plan_workdays if planned and is_planned else lead_workdays(term)
