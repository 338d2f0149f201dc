"""A revision, or a change note to it, on its way to the client: mails, and the link to the client's page."""

from typing import Any

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import read, write
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import Refused
from quoting.changes.api.change_notes import note_of
from quoting.changes.models import ChangeNote
from quoting.client.api.shapes.agreeing import Mails, MailShown, NewMail
from quoting.client.services.client_links import live_link, withdraw_links
from quoting.client.services.mail_messages import link_for_hand
from quoting.client.services.mails import SentMail, asked_before, list_mails, mail_errand, request_mail
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of
from quoting.platform.api.describing import describe
from quoting.platform.base_url import origin_of
from quoting.platform.firm_day import day_at_the_firm
from quoting.quotes.models import QuoteRevision
from quoting.quotes.services.revisions import revision_of

ONCE = "with its PDF and a link to the client's page. The same `request_key` sends once."


class RevisionMails(ApiView):
    @describe("list_mails", "Mails of a revision, the latest first, and how far each is.", gives="Mails")
    def get(self, request: Request, number: str, revision: int) -> Response:
        return Response(write(list_mails(revision_of(number, revision)), Mails))

    @describe("send_revision", f"Mail a revision {ONCE}", takes="NewMail", gives="Mail", status=201, again=True)
    def post(self, request: Request, number: str, revision: int) -> Response:
        return sent(request, revision_of(number, revision))


class NoteMails(ApiView):
    @describe("list_note_mails", "Mails of a change note, the latest first, and how far each is.", gives="Mails")
    def get(self, request: Request, key: str, note: int) -> Response:
        row = note_of(key, note)
        return Response(write(list_mails(row.revision, row), Mails))

    @describe("send_note", f"Mail a change note {ONCE}", takes="NewMail", gives="Mail", status=201, again=True)
    def post(self, request: Request, key: str, note: int) -> Response:
        row = note_of(key, note)
        return sent(request, row.revision, row)


class RevisionLink(ApiView):
    @describe(
        "make_link",
        "A link to the client's page, shown this once, to pass on without mail. The one before it stops working.",
        gives="Link",
        status=201,
        stands=True,
    )
    def post(self, request: Request, number: str, revision: int) -> Response:
        now = clock.now()
        wanted: dict[str, Any] = {"origin": origin_of(request), "now": now, "today": day_at_the_firm(now)}
        row = revision_of(number, revision)
        address = link_for_hand(row, **wanted, by_name=request.user.full_name)
        response = Response({"address": address}, status=201)
        response["Cache-Control"] = "no-store"
        return response


class WithdrawLink(ApiView):
    @describe("withdraw_link", "Withdraw the link in use; its page then says so.", gives="LinkState", stands=True)
    def post(self, request: Request, number: str, revision: int) -> Response:
        row = revision_of(number, revision)
        if not withdraw_links(row, clock.now()):
            raise Refused("No link to this revision is in use.")
        return Response({"in_use": live_link(row) is not None})


def sent(request: Request, revision: QuoteRevision, note: ChangeNote | None = None) -> Response:
    new, now = read(NewMail, Reader(document_of(request))), clock.now()
    known = asked_before(revision, new.request_key, note)
    mail = known or request_mail(
        revision,
        note=note,
        to_address=new.to_address,
        message=new.message,
        origin=origin_of(request),
        request_key=new.request_key,
        by_name=request.user.full_name,
        now=now,
        today=day_at_the_firm(now),
    )
    return Response(write(SentMail(mail, mail_errand(mail)), MailShown), status=200 if known else 201)
