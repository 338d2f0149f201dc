"""What is to be done about an order, as rows of its page: each with the button that does it and its other ways."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from urllib.parse import urlencode

from django.urls import reverse

from jobs.core.ordering.deviations import OF_CONFIRMATIONS
from jobs.core.ordering.late_remedies import Remedy
from jobs.core.ordering.order_acts import OrderAct
from jobs.deliveries.models import ReceiptLine
from jobs.deliveries.services.replacements import left_to_replace
from jobs.orders.models import Order, OrderLine, OrderState
from jobs.orders.services.ways import ItemWays

SETTLED = OF_CONFIRMATIONS | {"promised_late", "wall_moved"}
LATENESS = {"short", "later", "promised_late"}


@dataclass(frozen=True)
class Way:
    """is_post: it is done by the button itself; else it is a page."""

    label: str
    url: str
    is_post: bool = False


@dataclass(frozen=True)
class ShownAct:
    act: OrderAct
    do: Way
    others: tuple[Way, ...] = ()
    rush: Remedy | None = None


def shown_acts(
    order: Order, acts: Iterable[OrderAct], lines: Sequence[OrderLine], ways: Sequence[ItemWays] = ()
) -> list[ShownAct]:
    """lines: of the order, with their receipts and what replaces them. ways: what helps with what is late."""
    return [replace(_shown(order, activity, lines), rush=_rush(activity, lines, ways)) for activity in acts]


def _rush(act: OrderAct, lines: Sequence[OrderLine], ways: Sequence[ItemWays]) -> Remedy | None:
    """Of what comes late or short: a rush with its day and cost, or why there is none."""
    if act.kind not in LATENESS:
        return None
    line = _line_of(act, lines)
    here = (way for way in ways if (way.item.job.pk, way.item.need.material) == (line.job_id, line.material_id))
    return next((remedy for way in here for remedy in way.remedies if remedy.kind == "rush"), None)


def _shown(order: Order, act: OrderAct, lines: Sequence[OrderLine]) -> ShownAct:
    check_in = Way("Check in", reverse("check_in", args=[order.pk]))
    confirm = Way("Enter the confirmation", reverse("confirmation_add", args=[order.pk]))
    if act.kind == "short":
        return _short(act, lines)
    if act.kind in ("claim", "claim_lapsed"):
        return ShownAct(act, Way("Write the claim", reverse("receipt", args=[act.mark])))
    if act.kind == "answer":
        return ShownAct(act, Way("Enter the answer", reverse("receipt_outcome", args=[act.mark])))
    if act.kind == "credit":
        return ShownAct(act, Way("Enter the credit", reverse("return_credit", args=[act.mark])))
    if act.kind == "confirm":
        return ShownAct(act, confirm, (check_in,))
    if act.kind in SETTLED:
        return _settled(order, act, lines)
    silent = () if order.confirmations.all() else (confirm,)
    return ShownAct(act, check_in, (*silent, Way("Enter a new day", _promises(lines))))


def _short(act: OrderAct, lines: Sequence[OrderLine]) -> ShownAct:
    """Just the bad pieces; once a draft orders them, that draft is to be placed."""
    rows = [row for line in lines for row in line.receipts.all() if str(row.pk) in act.mark[6:].split(",")]
    line = rows[0].line if rows else lines[0]
    other = Way("Use a different profile", f"{reverse('substitutions', args=[line.job_id])}?line={line.pk}")
    others = (other,) if act.is_late and line.statement.get("runs") else ()
    left = next((row for row in rows if left_to_replace(row)), None)
    if left is not None:
        return ShownAct(act, Way(act.words, reverse("receipt_replace", args=[left.pk]), is_post=True), others)
    draft = _draft_again(line)
    if draft is not None:
        return ShownAct(act, Way(f"Place {draft.number}", reverse("order", args=[draft.pk])), others)
    return ShownAct(act, Way("Open the item", reverse("order_item", args=[line.job_id, line.material_id])), others)


def _draft_again(line: OrderLine) -> Order | None:
    drafts = (entry.order for entry in line.replaced_by.all() if entry.order.state == OrderState.DRAFT)
    return next(drafts, None)


def _settled(order: Order, act: OrderAct, lines: Sequence[OrderLine]) -> ShownAct:
    """The supplier is asked again, or somebody accepts it by name."""
    line = _line_of(act, lines)
    page = reverse("line_settle", args=[line.pk])
    wanted, accept = (f"{page}?{urlencode({'how': how, 'mark': act.mark})}" for how in ("asked_again", "accepted"))
    return ShownAct(act, Way(f"Asked {order.supplier.name}", wanted, is_post=True), (Way("Accept", accept),))


def _line_of(act: OrderAct, lines: Sequence[OrderLine]) -> OrderLine:
    return next((line for line in lines if line.place == act.place), lines[0])


def _promises(lines: Sequence[OrderLine]) -> str:
    """Of the line awaited first."""
    open_ones = [line for line in lines if not line.ended_on and not line.receipts.all()] or list(lines)
    first = min(open_ones, key=lambda line: (line.promised_on or line.quoted_dock_on) is None)
    return reverse("promises", args=[first.pk])


def bad_receipts(lines: Sequence[OrderLine]) -> list[ReceiptLine]:
    return [row for line in lines for row in line.receipts.all() if row.damaged or row.wrong]
