"""What was agreed with the client: the accepted quote, the notes signed since, and what waits for a signature."""

from dataclasses import dataclass

from catalog.core.ground.refusal import Refused
from jobs.jobs.models import Job
from quoting.changes.models import ChangeNote, ChangeState
from quoting.core.changes.change_notes import ContractSum, contract_sum
from quoting.core.prices.tax import TaxRule
from quoting.core.quotes.job_file import JobFile, read_job_file
from quoting.platform.formatting import day_words
from quoting.quotes.models import QuoteRevision, RevisionState
from quoting.quotes.services.answers import answer_of, last_taken_back
from quoting.quotes.services.offers import offer_of
from quoting.quotes.services.snapshots import snapshot_of


def nothing_agreed(job: Job) -> Refused:
    """There is no accepted quote, so there is nothing to change by a note."""
    why, back = f"No quote of {job} is accepted yet.", last_taken_back(job)
    if back is not None:
        day = day_words(back.given_on)
        why = f"The client cancelled {back.answer.revision} on {day}: the contract sum is zero."
    return Refused(f"{why} Until one is accepted, change the job and issue a new revision.")


@dataclass(frozen=True)
class Contract:
    """revision: the accepted one. notes: every change note to it, by number."""

    revision: QuoteRevision
    sums: ContractSum
    notes: tuple[ChangeNote, ...]

    @property
    def currency(self) -> str:
        return self.revision.currency

    @property
    def waiting(self) -> tuple[ChangeNote, ...]:
        return tuple(note for note in self.notes if note.state == ChangeState.ISSUED)

    @property
    def days_moved(self) -> int:
        """Working days by which signed notes move the end of the work."""
        return sum(note.days_moved for note in self.notes if note.state == ChangeState.SIGNED)


def accepted_revision(job: Job) -> QuoteRevision | None:
    rows = QuoteRevision.objects.select_related("quote__job__client")
    return rows.filter(quote__job=job, state=RevisionState.ACCEPTED).first()


def contract_of(job: Job) -> Contract | None:
    """None while no quote is accepted."""
    revision = accepted_revision(job)
    if revision is None:
        return None
    rows = ChangeNote.objects.filter(revision=revision).select_related("job").defer("snapshot")
    notes = tuple(rows.order_by("number"))
    signed, waiting = (
        [note.total for note in notes if note.state == state] for state in (ChangeState.SIGNED, ChangeState.ISSUED)
    )
    answer = answer_of(revision)
    accepted = answer.total if answer else revision.total
    return Contract(revision, contract_sum(accepted, signed, waiting), notes)


def earlier_notes(job: Job, contract: Contract | None) -> list[ChangeNote]:
    """Notes to acceptances that were taken back: no part of any sum, and still there to be read."""
    rows = ChangeNote.objects.filter(job=job).select_related("job").defer("snapshot").order_by("number")
    return list(rows.exclude(revision=contract.revision) if contract else rows)


def agreed_tax(revision: QuoteRevision) -> TaxRule:
    """The tax as it was agreed; a change is taxed by the same rule."""
    return offer_of(revision).tax


def agreed_job_file(revision: QuoteRevision) -> JobFile:
    return agreed_basis(revision)[0]


def agreed_basis(revision: QuoteRevision) -> tuple[JobFile, int]:
    """The job as it stands agreed, and the number of the note it is of.

    As the last signed note that was worked out from the walls; as accepted where there is none, and then 0.
    """
    signed = ChangeNote.objects.filter(revision=revision, state=ChangeState.SIGNED).order_by("-number")
    for note in signed:
        stored = snapshot_of(note).get("job_file")
        if stored is not None:
            return read_job_file(stored), note.number
    return read_job_file(snapshot_of(revision)["job_file"]), 0
