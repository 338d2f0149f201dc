"""What a quotation and its certificate say about taking an acceptance back, in the firm's own terms."""

from datetime import date

from quoting.core.quotes.cancellation import CancellationRule
from quoting.platform.formatting import day_words
from quoting.quotes.services.cancellation import window_of

NOTHING_BOUGHT = "Nothing made to order is bought before that day is over."


def window_terms(rule: CancellationRule | None, quoted_on: date, firm: str) -> tuple[str, ...]:
    """Before acceptance; nothing where no window is stated."""
    window = window_of(rule, quoted_on)
    return () if rule is None or window is None else terms_in_words(rule, window.until, quoted_on, firm)


def terms_in_words(rule: CancellationRule, until: date, quoted_on: date, firm: str) -> tuple[str, ...]:
    """The rule, the day it comes to if the quotation is accepted at once, and how notice is given."""
    return (
        f"Once accepted, it can be cancelled within {rule.words}. The day of acceptance is not counted; the "
        "last day counts to its end.",
        f"Accepted on {day_words(quoted_on)}, the day of this quotation, it could be cancelled up to and including "
        f"{day_words(until)}. {NOTHING_BOUGHT}",
        notice_sentence(rule, firm),
    )


def notice_sentence(rule: CancellationRule, firm: str) -> str:
    """As the firm entered it; without an entry, the plainest way there is."""
    return rule.notice or f"To cancel, tell {firm} in writing; the address is at the head of this paper."
