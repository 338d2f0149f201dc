"""A quotation larger than most: eight walls, four options, 120 lines of price, every kind of text."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Literal

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import Reader
from quoting.core.prices.allowances import Allowance
from quoting.core.prices.options import OptionSpec
from quoting.core.prices.price_terms import PriceTerms
from quoting.core.quotes.cancellation import CancellationRule, last_day_to_cancel
from quoting.core.quotes.firm_texts import FirmTexts, NoticeChoice
from quoting.core.quotes.work_up import work_up
from quoting.platform.papers.parts import PriceLine
from quoting.quotes.papers.sheets import QuotePaper
from quoting.quotes.services.cancellation_words import terms_in_words
from quoting.quotes.services.quote_paper import QuoteHead, quote_paper
from tests.documents import JOBS, document, job_file

DAY = date(2026, 11, 25)
CANARIES = ("Canary Supply House", "canary-cost-note")
OPTIONS = (
    OptionSpec("oak", "Cap rail in oak, oiled", "In place of the painted cap.", "Cap rail", Decimal("480.00")),
    OptionSpec("ash", "Cap rail in ash", "", "Cap rail", Decimal("310.00")),
    OptionSpec("skim", "Level 5 on every face", "A skim coat, for side light.", "", Decimal("1260.00")),
    OptionSpec("no-paint", "Painting left to others", "", "", Decimal("-900.00")),
)  # fmt: skip


@cache
def stress_paper(sheet_size: str = "letter", units: Literal["imperial", "metric"] = "imperial") -> QuotePaper:
    file = job_file("brightwell-childcare")
    walls = [wall for name in JOBS for wall in job_file(name).job.walls]
    walls += [replace(wall, name=f"{wall.name}, upper floor") for wall in walls[:2]]
    keyed = tuple(replace(wall, key=f"wall-{place}") for place, wall in enumerate(walls))
    suppliers = {code: replace(supplier, name=CANARIES[0]) for code, supplier in file.book.suppliers.items()}
    assert file.pricing is not None
    pricing = replace(
        file.pricing,
        costs=tuple(replace(cost, section="", what=f"{cost.what} {CANARIES[1]}") for cost in file.pricing.costs),
        materials_note=CANARIES[1],
        terms=PriceTerms(allowances=(Allowance("Pendant lamp over the desk", Decimal("500.00")),), options=OPTIONS),
        notice=NoticeChoice("Port Saffron", "en"),
    )
    texts = read(FirmTexts, Reader(document("texts/starter.json")))
    book = replace(file.book, suppliers=suppliers, firm=replace(file.book.firm, display_units=units))
    result = work_up(replace(file, book=book, job=replace(file.job, walls=keyed), pricing=pricing, texts=texts), DAY)
    paper = quote_paper(result, QuoteHead("Q-2026-0042", "3", "Bram Sawtry", "Teodor Finnmark, 9 November 2026"))
    lines = tuple(PriceLine(f"Part {number} of the work", "USD 250.00") for number in range(1, 120))
    # 119 x 250.00 + 343.75 = 30,093.75, which is the price.
    lines = (*lines, PriceLine("Part 120 of the work", "USD 343.75"))
    rule = CancellationRule(10, "calendar", notice="To take it back, write to the office.")
    window = terms_in_words(rule, last_day_to_cancel(DAY, rule), DAY, paper.firm.name)
    return replace(paper, price_lines=lines, sheet_size=sheet_size, taking_back=window)
