"""What a contract costs and leaves, as accepted and with the notes signed since; for those who see margins."""

from dataclasses import dataclass

from quoting.changes.models import ChangeNote, ChangeState
from quoting.changes.services.contracts import Contract
from quoting.core.changes.change_notes import ZERO, ChangeLine
from quoting.core.changes.contract_margin import ContractMargin, with_lines
from quoting.platform.models.core_values import core_value
from quoting.quotes.services.answers import answer_of
from quoting.quotes.services.offers import offer_of


@dataclass(frozen=True)
class Margins:
    accepted: ContractMargin
    present: ContractMargin


def margins_of(contract: Contract) -> Margins | None:
    """None for a quote without a price, which has no margin."""
    revision = contract.revision
    base = ContractMargin(revision.price, revision.cost)
    if base.price <= 0:
        return None
    accepted = with_lines(base, _chosen(contract), base)
    notes = ChangeNote.objects.filter(revision=revision, state=ChangeState.SIGNED).prefetch_related("lines", "costs")
    signed = [line for note in notes.defer("snapshot") for line in _lines(note)]
    return Margins(accepted, with_lines(accepted, signed, base))


def _lines(note: ChangeNote) -> list[ChangeLine]:
    """Its cost lines say the cost of the whole note, where it has some."""
    if costs := note.costs.all():
        together = sum((cost.to_core().cost for cost in costs), ZERO)
        return [ChangeLine(note.title, note.price, ZERO, together)]
    return [core_value(ChangeLine, row) for row in note.lines.all()]


def _chosen(contract: Contract) -> list[ChangeLine]:
    """The options the client took."""
    answer = answer_of(contract.revision)
    keys = {option["key"] for option in answer.options} if answer else set()
    options = (option for option in offer_of(contract.revision).options if option.key in keys)
    return [ChangeLine(option.title, option.price, option.taxed, option.cost) for option in options]
