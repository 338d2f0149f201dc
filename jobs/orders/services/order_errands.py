"""The errands that make an order sheet and send it to its supplier."""

from datetime import datetime

from django.core.mail import EmailMessage

from jobs.orders.models import Order, OrderMail
from jobs.orders.papers.order_sheet import OrderSheetPaper
from jobs.orders.services.mailing import MAIL_ORDER, begin_mail, message_of, send_when_ready
from quoting.platform import clock
from quoting.platform.errands.services.errand_kinds import Claim, errand_kind
from quoting.platform.mail_once import MailOnce
from quoting.platform.papers.paper_errand import MadePaper, PaperErrand, add_paper
from quoting.platform.papers.papers import RENDER_ORDER_SHEET


@errand_kind(RENDER_ORDER_SHEET)
class RenderOrderSheet(PaperErrand):
    """The order sheet as the order was when it was asked for; what waits for it is sent once it is kept."""

    doing = "Setting the order sheet in type"
    of = OrderSheetPaper

    def store(self, claim: Claim, result: MadePaper) -> None:
        order = Order.objects.get(pk=claim.payload["order"])
        add_paper(claim, result, order=order)
        send_when_ready(order, clock.now())


@errand_kind(MAIL_ORDER)
class MailOrder(MailOnce):
    def begin(self, claim: Claim, now: datetime) -> OrderMail:
        return begin_mail(claim.payload["mail"], now)

    def message(self, begun: OrderMail) -> EmailMessage:
        return message_of(begun)

    def store(self, claim: Claim, result: str) -> None:
        OrderMail.objects.filter(pk=claim.payload["mail"]).update(sent_at=clock.now(), went_by=result)
