"""The letter of a claim: filled from what was checked in, made in the background, kept with the receipt."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Annotated, Any

from catalog.core.ground.declared import Choice, read
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import Refused
from catalog.core.ground.units import System
from catalog.services.book import firm_of
from catalog.services.firm_on_paper import firm_party, sheet_size, supplier_party
from jobs.core.ordering.line_pieces import BAD
from jobs.deliveries.models import ReceiptLine
from jobs.deliveries.papers.claim_letter import ClaimLetterPaper
from jobs.deliveries.services.claims import needs_claim
from jobs.deliveries.services.received_pieces import STATES
from jobs.deliveries.services.receiving import state_of
from jobs.orders.papers.pieces import PieceRow
from jobs.orders.services.line_statement import statement_of_line
from jobs.orders.services.pieces import how_pieces_came
from jobs.orders.services.sheet_runs import piece_rows
from quoting.platform.errands.models import Errand
from quoting.platform.formatting import day_words
from quoting.platform.models.columns import normalized
from quoting.platform.papers.paper_documents import write_paper
from quoting.platform.papers.papers import RENDER_CLAIM_LETTER, last_asked, queue_paper
from quoting.platform.papers.parts import Measure
from quoting.platform.papers.photos import PaperPhoto
from quoting.platform.people.signatures import Signature

ASKS = {"make_again": "Make it again", "credit": "Credit it"}
Asks = Annotated[str, Choice(tuple(ASKS)), "What we ask of the supplier."]


@dataclass(frozen=True)
class NewClaimLetter:
    """The letter of a claim."""

    asks: Asks


def request_letter(row: ReceiptLine, document: dict[str, Any], signature: Signature, now: Any) -> Errand:
    """A NewClaimLetter. The same letter asked for twice is one paper. It claims nothing until the supplier has it."""
    return queue_letter(row, read(NewClaimLetter, Reader(document)).asks, signature, now)


def queue_letter(row: ReceiptLine, asks: str, signature: Signature, now: Any) -> Errand:
    refuse_unclaimed(row)
    paper = claim_letter(row, asks, signature)
    return queue_paper(RENDER_CLAIM_LETTER, f"receipt {row.pk}", paper, now, receipt=row.pk)


def letter_errand(row: ReceiptLine) -> Errand | None:
    return last_asked(RENDER_CLAIM_LETTER, receipt=row.pk)


def refuse_unclaimed(row: ReceiptLine) -> None:
    if not needs_claim(row):
        raise Refused(f"All of {row.line.what} came good on {day_words(row.delivery.received_on)}.")
    if row.outcome:
        raise Refused("This claim is answered already; there is nothing left to ask.")


def claim_letter(row: ReceiptLine, asks: str, signature: Signature) -> ClaimLetterPaper:
    firm, order, line = firm_of(), row.delivery.order, row.line
    return ClaimLetterPaper(
        order=f"order {order.number}, line {line.place}",
        written_on=day_words(signature.on),
        written_by=signature.by,
        firm=firm_party(firm),
        supplier=supplier_party(order.supplier.to_core()),
        facts=tuple(_facts(row)),
        what=line.what,
        ordered=f"{normalized(line.quantity):f} {line.unit}",
        came=came_words(row),
        asks=_asks(row, asks),
        note=row.note,
        pieces=bad_pieces(row, firm.display_units),
        photos=tuple(
            PaperPhoto(photo.file_name, photo.sha256, photo.size_bytes, photo.caption) for photo in row.photos.all()
        ),
        sheet_size=sheet_size(firm),
    )


def _facts(row: ReceiptLine) -> Iterable[Measure]:
    order, line = row.delivery.order, row.line
    yield Measure("Our order", f"{order.number}, line {line.place}")
    yield Measure("For", line.job.key)
    if order.placed_on:
        yield Measure("Ordered on", day_words(order.placed_on))
    yield Measure("Came on", day_words(row.delivery.received_on))
    yield Measure("Last day to claim", day_words(row.claim_by) if row.claim_by else "not stated in your terms")


def came_words(row: ReceiptLine) -> str:
    amounts = [(normalized(getattr(row, name)), name) for name in STATES]
    return ", ".join(f"{amount:f} {name}" for amount, name in amounts if amount)


def _asks(row: ReceiptLine, asks: str) -> str:
    bad, ordered = normalized(row.damaged + row.wrong), f"{normalized(row.line.quantity):f} {row.line.unit}"
    if not bad:
        beyond = f"{normalized(state_of(row.line).excess):f} more than {ordered}"
        return f"Please collect what came beyond the order, {beyond}, and credit it."
    if asks == "credit":
        return f"Please credit what came damaged or wrong: {bad:f} of {ordered}."
    return f"Please make again what came damaged or wrong: {bad:f} of {ordered}. Tell us the day it will be here."


def bad_pieces(row: ReceiptLine, system: System) -> tuple[PieceRow, ...]:
    """The pieces that came damaged or wrong; none for goods that are counted."""
    states = {piece.number: piece.state for piece in row.pieces.all() if piece.state in BAD}
    statement = statement_of_line(row.line)
    pieces = [came.piece for came in how_pieces_came(row.line) if came.piece.number in states]
    rows_of_runs: list[PieceRow] = []
    for run in statement.runs if statement else ():
        mine = [piece for piece in pieces if (piece.wall, piece.run) == (run.wall, run.run)]
        rows = piece_rows(mine, run, system)
        rows_of_runs += [
            replace(shown, came=states[piece.number], place=f"{run.run}, {run.wall}: {shown.place}")
            for shown, piece in zip(rows, mine, strict=True)
        ]
    return tuple(rows_of_runs)


def says_what_came(document: dict[str, Any], row: ReceiptLine) -> bool:
    """Whether a letter kept as a document still says what is kept of the receipt."""
    pieces = [write_paper(piece) for piece in bad_pieces(row, firm_of().display_units)]
    return (document["came"], document["pieces"]) == (came_words(row), pieces)
