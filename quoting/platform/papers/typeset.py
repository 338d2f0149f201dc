"""Sets a paper's text in type (HTML) and carries it through the sealed renderer."""

from collections.abc import Mapping

from django.template.loader import render_to_string

from jobs.orders.papers.order_sheet import OrderSheetPaper
from jobs.site.papers.full_size import FullSizePaper
from jobs.site.papers.site_sheet import SitePaper
from quoting.changes.papers.change_sheet import ChangePaper
from quoting.client.papers.certificate import CertificatePaper
from quoting.platform.papers.sealed import render_pdf
from quoting.quotes.papers.sheets import OrderDatesPaper, QuotePaper


def quote_html(paper: QuotePaper) -> str:
    return render_to_string("papers/quote.html", {"paper": paper})


def order_dates_html(paper: OrderDatesPaper) -> str:
    return render_to_string("papers/order_dates.html", {"paper": paper})


def quote_pdf(paper: QuotePaper, images: Mapping[str, bytes] | None = None) -> bytes:
    """images: the photos of its walls, by file name."""
    about = {"title": paper.title, "author": paper.firm.name, "language": paper.language}
    return render_pdf(quote_html(paper), **about, images=images)


def order_dates_pdf(paper: OrderDatesPaper) -> bytes:
    return render_pdf(order_dates_html(paper), title=paper.title, author=paper.firm.name, language=paper.language)


def site_html(paper: SitePaper) -> str:
    return render_to_string("papers/site.html", {"paper": paper})


def site_pdf(paper: SitePaper, images: Mapping[str, bytes] | None = None) -> bytes:
    """images: the photos of its walls, by file name."""
    about = {"title": paper.title, "author": paper.firm.name, "language": paper.language}
    return render_pdf(site_html(paper), **about, images=images)


def full_size_html(paper: FullSizePaper) -> str:
    return render_to_string("papers/full_size.html", {"paper": paper})


def full_size_pdf(paper: FullSizePaper) -> bytes:
    return render_pdf(full_size_html(paper), title=paper.title, author=paper.firm.name, language=paper.language)


def certificate_html(paper: CertificatePaper) -> str:
    return render_to_string("papers/certificate.html", {"paper": paper})


def certificate_pdf(paper: CertificatePaper) -> bytes:
    return render_pdf(certificate_html(paper), title=paper.title, author=paper.firm.name, language=paper.language)


def change_note_html(paper: ChangePaper) -> str:
    return render_to_string("papers/change_note.html", {"paper": paper})


def change_note_pdf(paper: ChangePaper) -> bytes:
    return render_pdf(change_note_html(paper), title=paper.title, author=paper.firm.name, language=paper.language)


def order_sheet_html(paper: OrderSheetPaper) -> str:
    return render_to_string("papers/order_sheet.html", {"paper": paper})


def order_sheet_pdf(paper: OrderSheetPaper) -> bytes:
    return render_pdf(order_sheet_html(paper), title=paper.title, author=paper.firm.name, language=paper.language)
