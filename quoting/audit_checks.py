"""Invariants of quotes, papers, dates and numbers, registered as this module is loaded at start-up."""

from collections.abc import Iterable, Iterator
from datetime import datetime
from decimal import Decimal

from django.apps import apps
from django.db import connection, models
from django.db.models import Count, Q

from catalog.core.ground.day_words import day_words
from quoting.changes.models import ChangeAnswer, ChangeNote, ChangeState
from quoting.client.models import ClientLink, QuoteMail
from quoting.client.services.mails import mail_errand, paper_sent
from quoting.core.prices.options import OptionError
from quoting.platform.errands.models import Errand, ErrandState
from quoting.platform.immutable_tables import missing_triggers
from quoting.platform.models.bounds import SHA256
from quoting.platform.papers.errors import PaperNotKept
from quoting.platform.papers.filing import verify_file
from quoting.platform.papers.models import Paper
from quoting.platform.papers.papers import (
    DESK_PAPERS,
    MONEY_PAPERS,
    RESULT_PAPERS,
    SITE_PAPERS,
    paper_key,
    papers_folder,
    stored_file_of,
)
from quoting.quotes.models import AnswerKind, ClientAnswer, Quote, QuoteRevision, RevisionState, TakeBack
from quoting.quotes.services.certificate_papers import certificate_errand
from quoting.quotes.services.offers import total_of
from quoting.quotes.services.quote_papers import quote_paper_errand
from quoting.quotes.services.snapshots import SnapshotChanged, snapshot_of
from quoting.service.audit import (  # register their checks
    alert_audit,  # noqa: F401
    bill_audit,  # noqa: F401
    date_audit,  # noqa: F401
    life_audit,  # noqa: F401
    month_audit,  # noqa: F401
    order_audit,  # noqa: F401
    request_audit,  # noqa: F401
)
from quoting.service.audit.services.audit import audit_check

OURS = ("catalog", "jobs", "quoting")


@audit_check("quotes")
def quotes_are_in_order(now: datetime) -> Iterable[str]:
    revisions = QuoteRevision.objects.select_related("quote").prefetch_related("lines", "instalments")
    for revision in revisions.iterator(chunk_size=50):
        yield from _sums(revision)
        yield from _snapshot(revision)
    accepted = Count("revisions", filter=Q(revisions__state=RevisionState.ACCEPTED))
    for quote in Quote.objects.annotate(accepted=accepted).filter(accepted__gt=1):
        yield f"{quote} has {quote.accepted} accepted revisions; at most one can be."


def _sums(revision: QuoteRevision) -> Iterator[str]:
    lines, instalments = revision.lines.all(), revision.instalments.all()
    sums = {
        "the lines": (_sum(line.price for line in lines), "price", revision.price),
        "price and tax": (revision.price + revision.tax, "total", revision.total),
    }
    if instalments:
        sums["the instalments"] = (_sum(due.amount for due in instalments), "total", revision.total)
    for parts, (together, whole, amount) in sums.items():
        if together != amount:
            yield f"{revision}: {parts} add up to {together}, but the {whole} is {amount}."


def _sum(amounts: Iterable[Decimal]) -> Decimal:
    return sum(amounts, Decimal("0.00"))


def _snapshot(revision: QuoteRevision) -> Iterator[str]:
    try:
        stored = snapshot_of(revision)["quote"]
    except (SnapshotChanged, ValueError, KeyError) as error:
        yield f"{revision}: {error}"
        return
    if stored["total"] != format(revision.total, ".2f"):
        yield f"{revision}: its total is {revision.total}, but {stored['total']} was frozen."


@audit_check("answers")
def answers_are_in_order(now: datetime) -> Iterable[str]:
    revisions = QuoteRevision.objects.select_related("quote").defer("snapshot")
    for revision in revisions.filter(state__in=[*AnswerKind.values, RevisionState.TAKEN_BACK], answer=None):
        yield f"{revision} is {revision.state}, but no answer was kept."
    answers = ClientAnswer.objects.select_related("revision__quote", "revision__paper")
    for answer in answers.iterator(chunk_size=50):
        yield from _answer(answer)
    for link in ClientLink.objects.exclude(digest__regex=SHA256):
        yield f"Link {link.pk} is not kept as a SHA-256."
    for mail in QuoteMail.objects.select_related("revision__quote").filter(sent_at=None):
        if mail_errand(mail) is None and paper_sent(mail.revision, mail.change_note) is not None:
            yield f"{mail} is asked for, and nobody is told to send it."


def _answer(answer: ClientAnswer) -> Iterator[str]:
    revision, accepted = answer.revision, answer.answer == AnswerKind.ACCEPTED
    if answer.quote_id != revision.quote_id:
        yield f"The answer to {revision} is kept with another quote."
    back = TakeBack.objects.filter(answer=answer).first()
    if (revision.state == RevisionState.TAKEN_BACK) != (back is not None):
        yield f"{revision} is {revision.state}, but {'nobody' if back is None else back.typed_name}'s notice is kept."
    if back is not None and not (answer.cancel_until and answer.answered_on <= back.given_on <= answer.cancel_until):
        yield f"{revision} was taken back on {day_words(back.given_on)}, which is not a day of its window."
    if revision.state not in (answer.answer, RevisionState.TAKEN_BACK if accepted else answer.answer):
        yield f"{revision} is {revision.state}, but its answer is {answer.answer}."
    paper = getattr(revision, "paper", None)
    if accepted and (paper is None or paper.sha256 != answer.paper_sha256):
        yield f"{revision} was accepted on a paper that is not the one kept of it."
    if accepted and certificate_errand(answer) is None:
        yield f"{revision} is accepted, and nobody is asked to make its certificate."
    try:
        total = total_of(revision, [option["key"] for option in answer.options])
    except (SnapshotChanged, OptionError, ValueError, KeyError) as error:
        yield f"{revision}: what was chosen cannot be added up: {error}"
        return
    if total.total != answer.total:
        yield f"{revision}: what was chosen adds up to {total.total}, but {answer.total} was accepted."


@audit_check("change notes")
def change_notes_are_in_order(now: datetime) -> Iterable[str]:
    for note in ChangeNote.objects.select_related("job").prefetch_related("lines").iterator(chunk_size=50):
        together = _sum(line.price for line in note.lines.all())
        if (together, note.price + note.tax) != (note.price, note.total):
            yield f"{note}: lines add up to {together}, price {note.price}, tax {note.tax}, total {note.total}."
        try:
            snapshot_of(note)
        except (SnapshotChanged, ValueError) as error:
            yield f"{note}: {error}"
        if note.state == ChangeState.SIGNED and not ChangeAnswer.objects.filter(note=note, answer="signed").exists():
            yield f"{note} stands as signed, and nobody's signature is kept."


@audit_check("frozen")
def triggers_are_there(now: datetime) -> Iterable[str]:
    for name in missing_triggers(connection):
        yield f"The trigger {name} is missing; run manage.py migrate to have it installed again."


@audit_check("papers")
def papers_are_kept(now: datetime) -> Iterable[str]:
    for paper in Paper.objects.all():
        try:
            verify_file(papers_folder(), stored_file_of(paper))
        except PaperNotKept as error:
            yield f"{paper}: {error}"
    papers = set(Paper.objects.values_list("key", flat=True))
    every = [*DESK_PAPERS, *MONEY_PAPERS, *SITE_PAPERS, *RESULT_PAPERS]
    for errand in Errand.objects.filter(kind__in=every, state=ErrandState.DONE):
        if paper_key(errand) not in papers:
            yield f"Errand {errand.pk} ({errand.kind} {errand.key}) is done, but its paper is not there."
    for revision in QuoteRevision.objects.select_related("quote").defer("snapshot").filter(paper=None):
        if quote_paper_errand(revision) is None:
            yield f"{revision} has no paper, and nobody is asked to make it."


@audit_check("numbers")
def numbers_are_numbers(now: datetime) -> Iterable[str]:
    for model in apps.get_models():
        if model._meta.app_label not in OURS:
            continue
        for field in model._meta.concrete_fields:
            if isinstance(field, models.DecimalField | models.FloatField) and (bad := _not_numbers(model, field)):
                yield f"{model._meta.verbose_name}: {bad} rows hold no ordinary number as {field.verbose_name}."


def _not_numbers(model: type[models.Model], field: models.Field) -> int:
    table, column = connection.ops.quote_name(model._meta.db_table), connection.ops.quote_name(field.column)
    wrong = {
        "sqlite": f"typeof({column}) NOT IN ('null', 'integer', 'real') OR abs({column}) > 1e300",
        "postgresql": f"{column}::text IN ('NaN', 'Infinity', '-Infinity')",
    }
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT count(*) FROM {table} WHERE {wrong[connection.vendor]}")
        return int(cursor.fetchone()[0])
