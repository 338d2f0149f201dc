"""What of a job's money is open, in one sentence: the same on its page, on Today and in the API."""

from datetime import date

from quoting.core.money.settling import Asked
from quoting.payment_requests.services.standing import PartAsked
from quoting.platform.formatting import money_words


def late_words(request: Asked, today: date, currency: str) -> str:
    """What is overdue; empty where nothing is. Days in ISO form."""
    late = request.overdue(today)
    if not late:
        return ""
    sums, first = money_words(sum(status.open for status in late), currency), min(status.request.due for status in late)  # type: ignore[arg-type]
    return f"{sums} is overdue since {first}."


def open_words(request: Asked, parts: tuple[PartAsked, ...], today: date, currency: str) -> str:
    """What is open and not overdue, what was paid ahead, and what can be asked for. Days in ISO form."""
    texts = []
    due = [status for status in request.requests if status.open and not status.is_overdue(today)]
    if due:
        sums, first = (
            money_words(sum(status.open for status in due), currency),
            min(status.request.due for status in due),
        )  # type: ignore[arg-type]
        texts.append(f"{sums} is due by {first}." if len(due) == 1 else f"{sums} is due, the first by {first}.")
    if request.ahead:
        texts.append(f"{money_words(request.ahead, currency)} is paid ahead.")
    ready = [part for part in parts if part.next is not None and part.can_be_issued]
    texts += [f"{money_words(part.next.to_pay.total, currency)} can be asked for: {part.what}." for part in ready[:1]]  # type: ignore[union-attr]
    return " ".join(texts) or ("" if request.overdue(today) else "Nothing is open.")
