"""What of a job's money is open, in one sentence: the same on its page, on Today and in the API."""

from datetime import date

from quoting.core.money.settling import Asked
from quoting.payment_requests.services.standing import PartAsked
from quoting.platform.formatting import money_words


def late_words(asked: Asked, today: date, currency: str) -> str:
    """What is overdue; empty where nothing is. Days in ISO form."""
    late = asked.overdue(today)
    if not late:
        return ""
    sums, first = money_words(sum(one.open for one in late), currency), min(one.request.due for one in late)  # type: ignore[arg-type]
    return f"{sums} is overdue since {first}."


def open_words(asked: Asked, parts: tuple[PartAsked, ...], today: date, currency: str) -> str:
    """What is open and not overdue, what was paid ahead, and what can be asked for. Days in ISO form."""
    said = []
    due = [one for one in asked.requests if one.open and not one.is_overdue(today)]
    if due:
        sums, first = money_words(sum(one.open for one in due), currency), min(one.request.due for one in due)  # type: ignore[arg-type]
        said.append(f"{sums} is due by {first}." if len(due) == 1 else f"{sums} is due, the first by {first}.")
    if asked.ahead:
        said.append(f"{money_words(asked.ahead, currency)} is paid ahead.")
    ready = [one for one in parts if one.next is not None and one.can_be_issued]
    said += [f"{money_words(one.next.to_pay.total, currency)} can be asked for: {one.what}." for one in ready[:1]]  # type: ignore[union-attr]
    return " ".join(said) or ("" if asked.overdue(today) else "Nothing is open.")
