"""Payments of clients as the API says them."""

from typing import Any

from quoting.platform.api.parts import (
    DAY,
    FLAG,
    MONEY,
    NEEDED_TEXT,
    TEXT,
    WHOLE,
    given,
    many,
    or_none,
    ref,
    thing,
)

Schema = dict[str, Any]
KEY: Schema = {**NEEDED_TEXT, "maxLength": 100, "description": "Your own; sent twice with it, it is kept once."}
PAYMENT = thing(
    "Undone ones count for nothing.",
    id=WHOLE,
    amount=MONEY,
    received_on=DAY,
    what_for=TEXT,
    entered_by=TEXT,
    undone_by=TEXT,
    undone_reason=TEXT,
)
SHAPES: Schema = {
    "Payment": PAYMENT,
    "Payments": thing(
        "Money received of the client. The deposit is null while no quote is accepted.",
        payments=many(ref("Payment")),
        received=MONEY,
        deposit=or_none(thing("", due=MONEY, received=MONEY, open=MONEY)),
    ),
    "NewPayment": given(
        "For the deposit where nothing else is said. paid_ahead: of what is more than is asked for.",
        ("request_key", "amount"),
        request_key=KEY,
        amount=ref("Money"),
        paid_ahead=FLAG,
        received_on=or_none(DAY),
        what_for={"type": "string", "maxLength": 200},
    ),
}
