"""What a column cannot hold exactly is refused by its place in the document, never rounded."""

import pytest

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import Reader
from quoting.core.quotes.job_file import PricingSpec
from quoting.pricing.services.keepable import not_keepable

PRICING = {"policy": {"mode": "margin", "target_margin": "0.38"}, "materials": "takeoff"}


@pytest.mark.parametrize(
    ("part", "path", "says"),
    [
        ({"policy": {"mode": "margin", "target_margin": "0.3333333"}}, "policy.target_margin", "six decimals"),
        ({"policy": {"mode": "markup", "markup": {"labour": "0.1234567"}}}, "policy.markup.labour", "six decimals"),
        ({"tax": {"name": "Tax", "rate": "0.1234567"}}, "tax.rate", "six decimals"),
        ({"deposit": {"share": "0.1234567"}}, "deposit.share", "too fine"),
        ({"special_order_cost": "99999999999"}, "special_order_cost", "too large"),
        ({"overhead": {"share_of_cost": "0.1234567"}}, "overhead.share_of_cost", "six decimals"),
        ({"allowances": [{"what": "Lamp", "amount": "99999999999"}]}, "allowances[0].amount", "too large"),
        ({"options": [{"title": "Oak", "price": "-99999999999"}]}, "options[0].price", "too large"),
    ],
)
def test_what_is_too_fine_or_too_large_is_named(part, path, says):
    [found] = not_keepable(read(PricingSpec, Reader(PRICING | part)))
    assert found.path == path and says in found.reason


def test_thirds_and_cents_can_be_kept():
    thirds = [{"event": f"Part {place}", "share": "1/3"} for place in range(3)]
    options = [{"title": "Oak", "price": "-0.01"}]
    spec = read(PricingSpec, Reader(PRICING | {"instalments": thirds, "options": options}))
    assert list(not_keepable(spec, "pricing.")) == []
