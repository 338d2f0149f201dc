"""The errands that make an order sheet and send it to its supplier."""

from datetime import datetime
from typing import ClassVar

from django.core.mail import EmailMessage

from jobs.orders.models import Order, OrderMail
from jobs.orders.papers.order_sheet import OrderSheetPaper
from jobs.orders.services.mailing import MAIL_ORDER, begin_mail, message_of, send_when_ready, take_back_beginning
from quoting.platform import clock
from quoting.platform.errands.services.errand_kinds import Claim, ErrandRefused, errand_kind
from quoting.platform.mail_once import MailOnce
from quoting.platform.papers.models import PaperKind
from quoting.platform.papers.paper_documents import read_paper
from quoting.platform.papers.paper_errand import HOPELESS, MadePaper, add_paper, keep
from quoting.platform.papers.papers import RENDER_ORDER_SHEET
from quoting.platform.papers.typeset import paper_pdf


@errand_kind(RENDER_ORDER_SHEET)
class RenderOrderSheet:
    """The order sheet as the order was when it was asked for; what waits for it is sent once it is kept."""

    time_limit_s: ClassVar[int] = 180

    def work(self, claim: Claim) -> MadePaper:
        claim.say("Setting the order sheet in type", 10)
        try:
            paper = read_paper(OrderSheetPaper, claim.payload["paper"])
            return keep(claim, paper.title, paper_pdf(paper))
        except HOPELESS as error:
            raise ErrandRefused(str(error)) from error

    def store(self, claim: Claim, result: MadePaper) -> None:
        order = Order.objects.get(pk=claim.payload["order"])
        add_paper(claim, result, kind=PaperKind.ORDER_SHEET, order=order)
        send_when_ready(order, clock.now())


@errand_kind(MAIL_ORDER)
class MailOrder(MailOnce):
    def begin(self, claim: Claim, now: datetime) -> OrderMail:
        return begin_mail(claim.payload["mail"], now)

    def message(self, begun: OrderMail) -> EmailMessage:
        return message_of(begun)

    def take_back(self, begun: OrderMail, now: datetime) -> None:
        take_back_beginning(begun)

    def store(self, claim: Claim, result: str) -> None:
        OrderMail.objects.filter(pk=claim.payload["mail"]).update(sent_at=clock.now(), went_by=result)
