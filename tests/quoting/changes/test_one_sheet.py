"""A change note and a certificate stand on one sheet each."""

import pytest

from quoting.changes.papers.change_sheet import ChangePaper
from quoting.platform.papers.parts import Measure, Party, PriceLine
from quoting.platform.papers.typeset import paper_pdf
from quoting.quotes.papers.certificate import CertificatePaper
from tests.support.paper_reading import open_paper, shares_used

FIRM = Party("Penmarrow Interiors", ("14 Sawyers Yard", "office@penmarrow.example"))
CLIENT = Party("Larkmoor Dental", ("Suite 3, Quarry Court",))
LINES = tuple(PriceLine(f"Screen {number}, changed", "USD 250.00") for number in range(1, 9))


def change_note(size: str) -> ChangePaper:
    return ChangePaper(
        number="1", quote_number="Q-0117", revision="2", job_title="Reception screen", change_title="Higher screens",
        reason="The ceiling came out 6 in higher than on the drawings, so every screen goes up with it. " * 3,
        issued_on="Thu 3 Dec 2026", prepared_by="M. Tarrant", firm=FIRM, client=CLIENT, price_lines=LINES,
        net_price="USD 2,000.00", tax_line=PriceLine("Tax 13 %", "USD 260.00", "on the price"), total="USD 2,260.00",
        days="The work is done 2 working days later than agreed before.",
        contract=(Measure("Quotation, as accepted", "USD 15,641.39"), Measure("With this change", "USD 17,901.39")),
        site_lines=("Ground floor, Quarry Court",), acceptance=("We agree to change note 1 at USD 2,260.00 with tax.",),
        sheet_size=size,
    )  # fmt: skip


def certificate(size: str) -> CertificatePaper:
    return CertificatePaper(
        number="Q-0117", revision="2", job_title="Reception screen", firm=FIRM, client=CLIENT, accepted_by="M. Linden",
        accepted_on="Thu 3 Dec 2026", total="USD 2,260.00", price_lines=LINES,
        facts=tuple(Measure(f"Fact {number}", "words", "and a note") for number in range(6)),
        window=("It can be cancelled up to and including Sun 13 Dec 2026.",), sheet_size=size,
    )  # fmt: skip


@pytest.mark.parametrize("size", ["letter", "a4"])
@pytest.mark.parametrize("filled", [change_note, certificate])
def test_with_eight_lines_of_price_it_stands_on_one_sheet(filled, size):
    pdf = paper_pdf(filled(size))
    assert len(open_paper(pdf).pages) == 1
    assert shares_used(pdf)[0] >= 0.6
