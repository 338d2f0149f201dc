"""Fills the paper of a payment request, once, as it is issued."""

from collections.abc import Iterator
from datetime import date

from catalog.services.book import firm_of
from catalog.services.firm_on_paper import firm_party, sheet_size
from jobs.jobs.services.client_on_paper import party_of_job
from quoting.changes.models import ChangeNote
from quoting.core.money.request_parts import Parts, sum_of
from quoting.core.money.requests import DEPOSIT, NOTES, RELEASE, Request
from quoting.core.prices.tax import TaxRule
from quoting.payment_requests.models import PaymentRequest, RequestTerms
from quoting.payment_requests.papers.request_sheet import RequestLine, RequestPaper
from quoting.payment_requests.services.standing import JobRequests
from quoting.platform.formatting import amount_words, day_words, money_words, share_words
from quoting.platform.papers.parts import Measure
from quoting.quotes.services.offers import offer_of
from quoting.quotes.services.snapshots import frozen_paper


def request_paper(
    request: JobRequests,
    wanted: Request,
    what: str,
    terms: RequestTerms,
    *,
    number: int,
    on: date,
    event_on: date,
    due: date,
) -> RequestPaper:
    revision, agreed, firm = request.revision, frozen_paper(request.revision), firm_of()
    return RequestPaper(
        number=str(number),
        what=what,
        issued_on=day_words(on),
        event_on=day_words(event_on),
        due=day_words(due),
        quote_number=f"{revision.quote.number}, revision {revision.number}",
        job_title=request.job.title,
        firm=firm_party(firm),
        client=party_of_job(request.job),
        currency=revision.currency,
        lines=tuple(_lines(request, wanted, what)),
        sums=line("To pay", wanted.to_pay),
        to_pay=money_words(wanted.to_pay.total, revision.currency),
        tax_words=tax_words(offer_of(revision).tax),
        how_to_pay=terms.how_to_pay,
        contract=tuple(_contract(request, wanted)),
        tax_number=terms.tax_number,
        site_lines=agreed.site_lines,
        sheet_size=sheet_size(firm),
        language=agreed.language,
    )


def credit_paper(
    row: PaymentRequest, paper: RequestPaper, terms: RequestTerms | None, *, number: int, on: date, reason: str
) -> RequestPaper:
    """paper: of the request it takes back."""
    lines = [line(f"Payment request {row.number} of {day_words(row.day)}, cancelled", -row.to_pay, paper.what)]
    return RequestPaper(
        number=str(number),
        what=paper.what,
        issued_on=day_words(on),
        event_on=paper.event_on,
        due=day_words(on),
        quote_number=paper.quote_number,
        job_title=paper.job_title,
        firm=paper.firm,
        client=paper.client,
        currency=paper.currency,
        lines=tuple(lines),
        sums=line("Credited", -row.to_pay),
        to_pay=money_words(row.total, row.currency),
        tax_words=paper.tax_words,
        how_to_pay="",
        contract=(),
        tax_number=terms.tax_number if terms else paper.tax_number,
        credits=str(row.number),
        reason=reason,
        site_lines=paper.site_lines,
        sheet_size=paper.sheet_size,
        language=paper.language,
    )


def line(what: str, parts: Parts, detail: str = "") -> RequestLine:
    return RequestLine(what, amount_words(parts.price), amount_words(parts.tax), amount_words(parts.total), detail)


def tax_words(tax: TaxRule) -> str:
    if tax.exempt_certificate:
        return f"{tax.name}: exempt, certificate {tax.exempt_certificate}"
    if not tax.rate:
        return "No tax is charged."
    of = "" if tax.applies_to == "price" else " on the materials"
    return f"{tax.name} {share_words(tax.rate)}{of}"


def _lines(request: JobRequests, wanted: Request, what: str) -> Iterator[RequestLine]:
    if wanted.part != NOTES:
        yield line(what, wanted.asked, _detail(request, wanted))
    for note in request.notes:
        if note.number in wanted.notes:
            yield line(f"Change note {note.number}: {note.title}", Parts(note.price, note.tax), _signed(note))
    if wanted.credited != Parts():
        numbers = [str(row.number) for row in request.live_rows if row.part == DEPOSIT]
        yield line("Deposit credited", -wanted.credited, f"Asked for by payment request {', '.join(numbers)}")
    if wanted.held != Parts() and request.agreed.retention and request.retention:
        share = share_words(request.agreed.retention.share)
        of = "" if request.agreed.retention.holds_tax else " of the price"
        yield line(f"Held back, {share}{of}", -wanted.held, f"Until: {request.retention.event}")


def _detail(request: JobRequests, wanted: Request) -> str:
    quote = f"quotation {request.revision.quote.number}"
    if wanted.part == DEPOSIT:
        return f"Part of the price of {quote}, and deducted from the next request"
    if wanted.part == RELEASE:
        return "Held back of the requests before"
    place = int(wanted.part.rpartition(" ")[2])
    share = share_words(request.agreed.instalments[place].share)
    return f"{share} of {quote}"


def _signed(note: ChangeNote) -> str:
    return f"Signed {day_words(note.answer.answered_on)}"


def _contract(request: JobRequests, wanted: Request) -> Iterator[Measure]:
    currency, live = request.revision.currency, [*request.live, wanted]
    contract = request.agreed.accepted + sum_of(note.parts for note in request.signed)
    so_far = sum_of(entry.to_pay for entry in live)
    released = sum_of(entry.asked for entry in live if entry.part == RELEASE)
    held = sum_of(entry.held for entry in live) - released
    yield Measure("Contract sum with signed change notes, with tax", money_words(contract.total, currency))
    yield Measure("Asked for so far, this request included", money_words(so_far.total, currency))
    if held != Parts():
        yield Measure("Held back so far", money_words(held.total, currency))
    rest = (contract - so_far - held).total
    if rest:
        yield Measure("Still to be asked for", money_words(rest, currency))
