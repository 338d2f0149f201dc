"""What others did since somebody was here: what clients answered and opened, what came, what was begun on site."""

from collections.abc import Iterator
from datetime import date, datetime, time
from typing import Any

from django.db.models import CharField, Count, Max, QuerySet, Value

from catalog.core.ground.workdays import WorkCalendar
from jobs.deliveries.models import Confirmation, Delivery
from jobs.orders.models import Order
from quoting.changes.models import ChangeAnswer
from quoting.client.models import LinkOpening
from quoting.core.life.steps import times_words
from quoting.payment_requests.models import PaymentReceived
from quoting.platform.people.models import Person
from quoting.platform.people.services.visits import news_since
from quoting.quotes.models import AnswerKind, ClientAnswer, TakeBack
from quoting.service.services.news_item import MOST, News
from quoting.service.services.site_news import confirmed_since, deliveries, field_checks, work


def news_for(person: Person, moment: datetime, calendar: WorkCalendar) -> tuple[datetime, list[News]]:
    """Since their last visit, or since the working day before on their first; with that moment. moment: by the firm's
    own clock."""
    first = datetime.combine(calendar.back(moment.date(), 1), time(), moment.tzinfo)
    since = news_since(person, moment, first).astimezone(moment.tzinfo)
    return since, news(since, since.date(), person.full_name)


def news(since: datetime, day: date, reader: str) -> list[News]:
    """Answers first, then the latest first. day: of since, at the firm. reader: whose own doings are no news."""
    newest = _newest(since, day)
    answers = [*_answers(since, reader)] if "answers" in newest else []
    answers += [*_taken_back(since, reader)] if "cancelled" in newest else []
    answers += [*_of_changes(since, reader)] if "changes" in newest else []
    others = [*_openings(since)] if "openings" in newest else []
    others += [*deliveries(since, reader)] if "deliveries" in newest else []
    others += [*_orders(since, reader)] if newest & {"orders", "confirmations"} else []
    others += [*_payments(since, reader)] if "payments" in newest else []
    others += [*field_checks(day, reader)] if "checks" in newest else []
    others += work(day, reader)
    return [*sorted(answers, key=_at, reverse=True), *sorted(others, key=_at, reverse=True)]


def _newest(since: datetime, day: date) -> set[str]:
    """Of which there is any since then: one query in the place of several that mostly find nothing."""
    rows: list[QuerySet[Any, Any]] = [
        _any("answers", ClientAnswer.objects.filter(answered_at__gt=since)),
        _any("cancelled", TakeBack.objects.filter(kept_at__gt=since)),
        _any("changes", ChangeAnswer.objects.filter(answered_at__gt=since)),
        _any("checks", confirmed_since(day)),
        _any("openings", LinkOpening.objects.filter(opened_at__gt=since)),
        _any("deliveries", Delivery.objects.filter(entered_at__gt=since)),
        _any("orders", Order.objects.filter(placed_at__gt=since)),
        _any("confirmations", Confirmation.objects.filter(entered_at__gt=since)),
        _any("payments", PaymentReceived.objects.filter(entered_at__gt=since)),
    ]
    return set(rows[0].union(*rows[1:]))


def _any(name: str, rows: QuerySet[Any]) -> QuerySet[Any, Any]:
    return rows.order_by().annotate(of=Value(name, CharField())).values_list("of", flat=True)


def _at(fresh: News) -> tuple[str, str]:
    return fresh.at.isoformat()[:10], fresh.at.isoformat() if isinstance(fresh.at, datetime) else ""


def _answers(since: datetime, reader: str) -> Iterator[News]:
    rows = ClientAnswer.objects.filter(answered_at__gt=since).exclude(entered_by_name=reader)
    rows = rows.filter(taken_back=None).select_related("revision__quote__job").defer("revision__snapshot")
    for row in rows.order_by("-answered_at")[:MOST]:
        job, accepted = row.revision.quote.job, row.answer == AnswerKind.ACCEPTED
        place = ("revision", str(job.pk), str(row.revision.number))
        amount = row.total if accepted else None
        did = f"{'accepted' if accepted else 'declined'} {job.title}"
        yield News(row.answered_at, row.typed_name, did, place, amount=amount, is_answer=True)


def _taken_back(since: datetime, reader: str) -> Iterator[News]:
    rows = TakeBack.objects.filter(kept_at__gt=since).exclude(entered_by_name=reader)
    for row in rows.select_related("answer__revision__quote__job").defer("answer__revision__snapshot")[:MOST]:
        job, number = row.answer.revision.quote.job, row.answer.revision.number
        did = f"cancelled {job.title}"
        yield News(row.kept_at, row.typed_name, did, ("revision", str(job.pk), str(number)), is_answer=True)


def _of_changes(since: datetime, reader: str) -> Iterator[News]:
    rows = ChangeAnswer.objects.filter(answered_at__gt=since).exclude(entered_by_name=reader)
    for row in rows.select_related("note__job").defer("note__snapshot").order_by("-answered_at")[:MOST]:
        note, job = row.note, row.note.job
        amount = note.total if row.answer == "signed" else None
        did = f"{row.answer} change note {note.number}: {job.title}"
        place = ("change_note", str(job.pk), str(note.number))
        yield News(row.answered_at, row.typed_name, did, place, amount=amount, is_answer=True)


def _openings(since: datetime) -> Iterator[News]:
    rows = LinkOpening.objects.filter(opened_at__gt=since).order_by()
    job = "link__revision__quote__job"
    for openings in rows.values_list(job, f"{job}__title", f"{job}__client__name", "link__revision__number").annotate(
        Count("pk"), Max("opened_at")
    ):
        pk, title, client, number, count, last = openings
        often = "" if count == 1 else f" {times_words(count)}"
        did = f"opened the quotation{often}: {title}"
        yield News(last, client, did, ("revision", str(pk), str(number)))


def _orders(since: datetime, reader: str) -> Iterator[News]:
    placed = Order.objects.filter(placed_at__gt=since).exclude(placed_by_name=reader).select_related("supplier")
    for order in placed.order_by("-placed_at")[:MOST]:
        assert order.placed_at is not None
        did = f"placed order {order.number} with {order.supplier.name}"
        yield News(order.placed_at, order.placed_by_name, did, ("order", str(order.pk)))
    rows = Confirmation.objects.filter(entered_at__gt=since).exclude(entered_by_name=reader).select_related("order")
    for row in rows.order_by("-entered_at")[:MOST]:
        did = f"entered the confirmation of order {row.order.number}"
        yield News(row.entered_at, row.entered_by_name, did, ("order", str(row.order_id)))


def _payments(since: datetime, reader: str) -> Iterator[News]:
    rows = PaymentReceived.objects.filter(entered_at__gt=since, undone_at=None, undoes=None).exclude(
        entered_by_name=reader
    )
    for row in rows.select_related("job").order_by("-entered_at")[:MOST]:
        did = f"entered a payment for {row.job.title}"
        yield News(row.entered_at, row.entered_by_name, did, ("job", str(row.job_id)), amount=row.amount)
