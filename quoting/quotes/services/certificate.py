"""Fills the certificate of acceptance from what was frozen: the answer, and the revision it is of."""

from collections.abc import Iterator

from quoting.platform.firm_day import moment_at_the_firm
from quoting.platform.formatting import day_words, money_words
from quoting.platform.papers.parts import Measure, PriceLine
from quoting.quotes.models import AnswerWay, ClientAnswer
from quoting.quotes.papers.certificate import CertificatePaper
from quoting.quotes.services.cancellation import read_rule
from quoting.quotes.services.cancellation_words import NOTHING_BOUGHT, notice_sentence
from quoting.quotes.services.offers import total_of
from quoting.quotes.services.snapshots import frozen_paper, snapshot_of

NOTE = (
    "This sheet records the acceptance as it was given. What it means in law depends on the place of the work; "
    "ask a licensed adviser there."
)


def certificate_paper(answer: ClientAnswer) -> CertificatePaper:
    revision, paper = answer.revision, frozen_paper(answer.revision)
    return CertificatePaper(
        number=revision.quote.number,
        revision=str(revision.number),
        job_title=paper.job_title,
        firm=paper.firm,
        client=paper.client,
        accepted_by=answer.typed_name,
        accepted_on=day_words(answer.answered_on),
        total=money_words(answer.total, revision.currency),
        facts=tuple(_facts(answer)),
        price_lines=tuple(_lines(answer)),
        window=window_sentences(answer),
        notes=(NOTE,),
        sheet_size=paper.sheet_size,
        language=paper.language,
    )


def window_sentences(answer: ClientAnswer) -> tuple[str, ...]:
    if answer.cancel_until is None:
        return ("The quotation states no days in which it can be cancelled.",)
    rule = read_rule(snapshot_of(answer.revision).get("cancellation"))
    return (
        f"It can be cancelled up to and including {day_words(answer.cancel_until)}: "
        f"{answer.cancel_words}. {NOTHING_BOUGHT}",
        *((notice_sentence(rule, frozen_paper(answer.revision).firm.name),) if rule else ()),
    )


def _lines(answer: ClientAnswer) -> Iterator[PriceLine]:
    currency = answer.revision.currency
    total = total_of(answer.revision, [entry["key"] for entry in answer.options])
    for line in total.lines:
        yield PriceLine(line.section, money_words(line.price, currency))
    for option in total.options:
        yield PriceLine(option.title, money_words(option.price, currency), "option chosen")
    yield PriceLine("Price before tax", money_words(answer.price, currency))
    yield PriceLine("Tax", money_words(answer.tax, currency))


def _facts(answer: ClientAnswer) -> Iterator[Measure]:
    moment = moment_at_the_firm(answer.answered_at)
    yield Measure("Name typed", answer.typed_name)
    yield Measure("At", f"{day_words(moment.date())}, {moment:%H:%M:%S} {moment:%Z}", "the firm's own time")
    if answer.way == AnswerWay.PAPER:
        yield Measure("How", "Signed on paper", f"entered by {answer.entered_by_name}")
    else:
        yield Measure("How", "On the client's page, by its secret link")
    if answer.from_address:
        yield Measure("From address", answer.from_address)
    yield Measure("Paper accepted, SHA-256", answer.paper_sha256, "identifies the PDF the client was sent")
    yield Measure(
        "Issued", day_words(answer.revision.quoted_on), f"valid until {day_words(answer.revision.valid_until)}"
    )
