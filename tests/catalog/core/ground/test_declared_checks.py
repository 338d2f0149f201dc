from datetime import date
from decimal import Decimal

import pytest

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.leads.order_terms import OrderTerms, OrderTermsError

STATED = {"source": "price list", "stated_on": date(2026, 10, 5)}


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"claim_days": 366}, "claim_days: must be a whole number from 0 to 365, not 366"),
        ({"claim_days": True}, "claim_days: must be a whole number from 0 to 365, not True"),
        ({"claim_counts": "weeks"}, "claim_counts: 'weeks' is not one of workdays, calendar_days"),
        ({"freight": Decimal(-1)}, "freight: must be from 0 to 9,999,999,999.99, not -1"),
        ({"rush_share": Decimal("NaN")}, "rush_share: must be from 0 to 10, not NaN"),
        ({"source": " "}, "source: must not be empty"),
        ({"stated_on": None}, "stated_on: is missing"),
    ],
)
def test_a_value_made_in_a_program_is_judged_by_what_its_fields_declare(change, message):
    with pytest.raises(OrderTermsError, match=f"^{message}$"):
        OrderTerms(**STATED | change)


def test_what_only_the_value_refuses_stands_at_its_field_in_the_document():
    document = {"source": "A call", "stated_on": "2026-10-05", "freight": "99999999999"}
    with pytest.raises(DocumentError) as refusal:
        read(OrderTerms, Reader(document, "order_terms"))
    assert [problem.path for problem in refusal.value.complaints] == ["order_terms.freight"]
