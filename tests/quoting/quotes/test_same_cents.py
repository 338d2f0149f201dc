"""The same cents wherever a quote's figures are read: database, page, paper, API and sheet, on either engine."""

import csv
import hashlib
import io
import json
import os
import re
from decimal import Decimal
from html import unescape

import pytest
from babel.numbers import parse_decimal
from django.urls import reverse

from catalog.core.ground.plain_text import money as api_money
from quoting.core.prices.options import total_with
from quoting.platform.formatting import amount_words, money_words
from quoting.platform.papers.typeset import paper_html
from quoting.pricing.services.pricing import save_pricing
from quoting.quotes.models import Quote, QuoteInstalment, QuoteLine, QuoteRevision, RevisionState
from quoting.quotes.services.offers import offer_of, write_offer
from quoting.quotes.services.quote_csv import quote_csv
from quoting.quotes.services.quotes import instalment_rows, line_rows
from quoting.quotes.services.snapshots import frozen_paper, hash_of
from tests.support.generated_quotes import Generated, generated
from tests.support.worked import NOW, PRICING, TODAY, estimator, issued, small_job

pytestmark = pytest.mark.both_engines


# make faults asks for all of them; the suite stores a few.
MANY, FEW = 5_000, 60
COUNT = MANY if os.environ.get("CURVEWRIGHT_FAULT_ROUNDS") else FEW
# Of every figure as it is read back, written down on SQLite: PostgreSQL must give the same.
DIGESTS = {
    FEW: "e40ebfec6bc076d40b142100233e0fed42b2c90223a1a89d059f4304eacf16bf",
    MANY: "883ec0fc459b0df10243778998762423c02e1e3b56b7fa46b858f02d4b82a71b",
}


def store(quote: Quote, number: int, made: Generated) -> tuple[QuoteRevision, list[QuoteLine], list[QuoteInstalment]]:
    priced = made.priced
    snapshot = json.dumps({"offer": write_offer(made.offer)})
    revision = QuoteRevision(
        pk=number, quote=quote, number=number, request_key=f"key {number}", issued_at=NOW, issued_by=estimator(),
        issued_by_name="R. Sallow", quoted_on=TODAY, valid_until=TODAY, currency="USD", price=priced.price,
        tax=priced.tax, total=priced.total, cost=priced.cost, margin=round(priced.margin, 6), rules_version="r",
        snapshot=snapshot, snapshot_sha256=hash_of(snapshot), state=RevisionState.SUPERSEDED, state_at=NOW,
    )  # fmt: skip
    return revision, list(line_rows(revision, priced)), list(instalment_rows(revision, priced))


def figures(revision: QuoteRevision) -> dict[str, list[Decimal]]:
    """Every amount of a revision as it stands in the database."""
    return {
        "line": [amount for line in revision.lines.all() for amount in (line.price, line.taxed, line.tax)],
        "total": [revision.price, revision.tax, revision.total],
        "instalment": [due.amount for due in revision.instalments.all()],
        "option": [amount for option in offer_of(revision).options for amount in (option.price, option.taxed)],
    }


def in_the_sheet(revision: QuoteRevision) -> dict[str, list[Decimal]]:
    amountses: dict[str, list[Decimal]] = {"line": [], "total": [], "instalment": [], "option": []}
    for row in csv.DictReader(io.StringIO(quote_csv(revision).decode(), newline="")):
        amountses[row["part"]] += [Decimal(row[name]) for name in ("price", "taxed", "tax", "total") if row[name]]
    return amountses


def core_figures(made: Generated) -> dict[str, list[Decimal]]:
    return {
        "line": [amount for line in made.priced.lines for amount in (line.price, line.taxed, line.tax)],
        "total": [made.priced.price, made.priced.tax, made.priced.total],
        "instalment": [due.amount for due in made.priced.instalments],
        "option": [amount for option in made.offer.options for amount in (option.price, option.taxed)],
    }


@pytest.mark.faults
@pytest.mark.django_db
def test_generated_quotes_have_the_same_cents_in_core_database_page_paper_api_and_sheet_on_both_engines():
    quote = Quote.objects.create(job=small_job(), number="Q-2026-9000", opened_at=NOW)
    made = list(generated(COUNT))
    stored = [store(quote, number, entry) for number, entry in enumerate(made, start=1)]
    QuoteRevision.objects.bulk_create([revision for revision, _, _ in stored], batch_size=500)
    QuoteLine.objects.bulk_create([line for _, lines, _ in stored for line in lines], batch_size=500)
    QuoteInstalment.objects.bulk_create([due for _, _, dues in stored for due in dues], batch_size=500)
    digest = hashlib.sha256()
    rows = QuoteRevision.objects.select_related("quote").prefetch_related("lines", "instalments").order_by("number")
    for row, each in zip(rows.iterator(chunk_size=500), made, strict=True):
        engines = figures(row)
        assert engines == core_figures(each) == in_the_sheet(row), f"generated quote {row.number}"
        assert total_with(offer_of(row), ()).total == row.total
        for amount in (amount for amounts in engines.values() for amount in amounts):
            assert Decimal(api_money(amount)) == amount
            assert parse_decimal(amount_words(amount), locale="en_US") == amount
            assert (
                parse_decimal("".join(money_words(amount, "USD").replace("USD", "").split()), locale="en_US") == amount
            )
        digest.update(repr(engines).encode())
    assert digest.hexdigest() == DIGESTS[COUNT]


WAYS = [
    {"policy": {"mode": "margin", "target_margin": "0.3333"}, "tax": {"name": "Sales tax", "rate": "0.07255"}},
    {
        "policy": {
            "mode": "markup",
            "markup": dict.fromkeys(("materials", "labour", "subcontract", "other"), "0.1875"),
        },
        "tax": {"name": "Sales tax", "rate": "0.0825", "applies_to": "materials", "basis": "line"},
        "options": [{"key": "oak", "title": "=Oak", "price": "-120.55", "cost": "10.00", "materials_price": "20.05"}],
    },
]


@pytest.mark.django_db
@pytest.mark.parametrize("way", WAYS, ids=["margin", "markup"])
def test_an_issued_quote_has_the_same_cents_on_its_page_its_paper_by_api_and_in_its_sheet(client, way):
    job = small_job()
    save_pricing(job, PRICING | way, seen_version=None, on_day=TODAY)
    row = QuoteRevision.objects.select_related("quote").get(pk=issued(job).pk)
    client.force_login(estimator())
    amountses = figures(row)
    shown = [amount for part in ("total", "instalment") for amount in amountses[part]] + amountses["line"][::3]
    page = words_of(client.get(reverse("revision", args=[job.pk, row.number])).content.decode())
    paper = words_of(paper_html(frozen_paper(row)))
    for amount in shown:
        assert f"{amount:,.2f}" in page
        assert f"USD {amount:,.2f}" in paper
    message = client.get(f"/api/quotes/{row.quote.number}/revisions/{row.number}").json()
    assert [message[name] for name in ("price", "tax", "total")] == [str(entry) for entry in amountses["total"]]
    assert [due["amount"] for due in message["quote"]["instalments"]] == [
        str(entry) for entry in amountses["instalment"]
    ]
    sheet = client.get(reverse("revision_csv", args=[job.pk, row.number]))
    assert sheet.content == quote_csv(row)
    assert in_the_sheet(row) == amountses
    assert ",=" not in sheet.content.decode()


def words_of(html: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", html)).split())
