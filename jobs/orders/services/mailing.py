"""Sending an order sheet to its supplier: asked for once, begun once, and never sent twice."""

from datetime import datetime

from django.core.mail import EmailMessage
from django.db import transaction

from catalog.core.ground.refusal import Refused
from catalog.services.book import firm_of
from jobs.orders.models import Order, OrderMail, OrderState
from jobs.orders.services.refusal import refuse_wrong_key
from quoting.platform.errands.models import Errand
from quoting.platform.errands.services.errands import queue_errand
from quoting.platform.mail import addresses_of, message_text
from quoting.platform.mail_once import IN_DOUBT, mail_with_paper, with_errands
from quoting.platform.papers.models import Paper, PaperKind

MAIL_ORDER = "mail_order"


@transaction.atomic
def queue_mail(order: Order, *, to_address: str, message: str, request_key: str, by: str, now: datetime) -> OrderMail:
    """Its sheet goes with it, so it leaves once that is made. The same request_key sends once. Raises Refused."""
    refuse_wrong_key(request_key)
    known = OrderMail.objects.filter(request_key=request_key).first()
    if known is not None:
        if known.order_id != order.pk:
            raise Refused("This request has sent another order; open the page of this order again.")
        return known
    if order.state != OrderState.PLACED:
        raise Refused(f"Order {order} is {order.get_state_display().lower()}, so it is not sent.")
    mail = OrderMail.objects.create(
        order=order,
        request_key=request_key,
        to_address=", ".join(addresses_of(to_address)),
        message=message_text(message),
        asked_at=now,
        asked_by_name=by,
    )
    send_when_ready(order, now)
    return mail


@transaction.atomic
def send_when_ready(order: Order, now: datetime) -> None:
    """Called when a mail is asked for and when a sheet is made, whichever comes last."""
    # Held, so that of a sheet being kept and a mail being asked for at once the second sees the first.
    order = Order.objects.select_for_update(of=("self",)).get(pk=order.pk)
    if sheet_of(order) is None:
        return
    for mail in OrderMail.objects.filter(order=order, sent_at=None):
        queue_errand(MAIL_ORDER, key_of(mail), {"mail": mail.pk}, now)


def sheet_of(order: Order) -> Paper | None:
    """The sheet of the order as it was placed; one made of its draft does not count."""
    if order.placed_at is None:
        return None
    made = Paper.objects.filter(order=order, kind=PaperKind.ORDER_SHEET, made_at__gte=order.placed_at)
    return made.order_by("-pk").first()


def mails_of(order: Order) -> list[tuple[OrderMail, Errand | None]]:
    return with_errands(order.mails.all(), MAIL_ORDER, key_of)


def key_of(mail: OrderMail) -> str:
    return f"{mail.order_id} mail {mail.pk}"


@transaction.atomic
def begin_mail(mail_id: int, now: datetime) -> OrderMail:
    """Say that sending has begun. Raises Refused, also when it had begun before."""
    mail = OrderMail.objects.select_for_update(of=("self",)).select_related("order__supplier").get(pk=mail_id)
    if mail.began_at is not None:
        raise Refused(IN_DOUBT)
    if mail.order.state != OrderState.PLACED:
        raise Refused(f"Order {mail.order} was {mail.order.get_state_display().lower()} before it was sent.")
    mail.began_at = now
    mail.save(update_fields=["began_at"])
    return mail


def message_of(mail: OrderMail) -> EmailMessage:
    """The mail itself, the sheet with it. Raises PaperNotKept."""
    order, firm, sheet = mail.order, firm_of(), sheet_of(mail.order)
    assert sheet is not None, "queued once its sheet was made; papers are never deleted"
    context = {"order": order, "firm": firm, "lines": order.lines.all()}
    return mail_with_paper(mail, f"Order {order.number} of {firm.name}", "orders/mail.txt", context, sheet)
