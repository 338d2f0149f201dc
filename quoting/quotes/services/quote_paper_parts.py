"""Parts of the client's paper that stand beside the price: options, allowances, the notice of the place."""

from decimal import Decimal

from quoting.core.quotes.quote_sheet import QuoteSheet
from quoting.platform.formatting import money_words
from quoting.platform.papers.parts import NoticeText, OptionRow


def option_rows(quote: QuoteSheet, currency: str) -> tuple[OptionRow, ...]:
    """Those that stand by themselves first, then the alternates, group by group."""
    ordered = sorted(quote.options, key=lambda option: option.group)
    return tuple(
        OptionRow(option.title, _signed(option.price, currency), option.group, option.text) for option in ordered
    )


def _signed(amount: Decimal, currency: str) -> str:
    return f"{'−' if amount < 0 else '+'} {money_words(abs(amount), currency)}"


def allowance_sentences(quote: QuoteSheet, currency: str) -> tuple[str, ...]:
    return tuple(
        allowance.sentence(money_words(allowance.amount, currency)) for allowance in quote.pricing.terms.allowances
    )


def notice_text(quote: QuoteSheet) -> NoticeText | None:
    notice = quote.notice
    if notice is None:
        return None
    about = f"{notice.place}, version {notice.version}"
    return NoticeText(notice.title, notice.paragraphs, about, notice.language)
