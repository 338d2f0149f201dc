"""The first page of a quotation that is not issued, as a browser shows it."""

import re
from datetime import date
from functools import cache

from django.template.loader import render_to_string
from django.templatetags.static import static

from quoting.core.quotes.work_up import WorkUp
from quoting.platform.papers.assets import PAPER_STYLES
from quoting.quotes.models import Quote
from quoting.quotes.services.quote_paper import QuoteHead, quote_paper

# What the printer does with the sheet is told to the browser: its size and margins, and that the next begins a page.
AS_A_SHEET = """
html { background: #fff; }
body { position: relative; box-sizing: border-box; width: 215.9mm; height: 279.4mm; padding: 15mm 18mm;
  overflow: hidden; }
body.a4 { width: 210mm; height: 297mm; }
.title-block { position: absolute; left: 18mm; right: 18mm; bottom: 7mm; width: auto; background: #fff; }
.title-block .page-number::after { content: "1"; }
.cover ~ * { display: none; }
"""


def first_page(work_up: WorkUp, today: date, prepared_by: str) -> str:
    """Raises Refused for a job that is not priced."""
    quote = Quote.objects.filter(job__key=work_up.read.job.key).first()
    number = str(quote.revisions.count() + 1) if quote else "1"
    head = QuoteHead(quote.number if quote else f"Q-{today.year}", number, prepared_by)
    html = render_to_string("papers/quote.html", {"paper": quote_paper(work_up, head, sheets=False)})
    return re.sub(
        r'<link rel="stylesheet" href="asset:([\w.]+)">', lambda link: f"<style>{_style(link[1])}</style>", html
    )


@cache
def _style(name: str) -> str:
    css = re.sub(
        r'url\("asset:([\w.-]+)"\)',
        lambda url: f'url("{static(f"fonts/{url[1]}")}")',
        (PAPER_STYLES / name).read_text(),
    )
    return css if name == "paper.css" else css + AS_A_SHEET
