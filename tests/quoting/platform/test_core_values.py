from datetime import date
from decimal import Decimal

from catalog.core.leads import order_terms
from catalog.core.materials import specs
from catalog.models import OrderTerms, Pack
from quoting.platform.models.core_values import column_values, core_value


def test_a_row_gives_figures_as_they_were_meant_and_lengths_as_floats() -> None:
    row = Pack(code="S10", label="10 ft stick", quantity=Decimal("10.000000"), length_mm=Decimal("3048.000000"))
    pack = core_value(specs.Pack, row, prices=())
    assert pack == specs.Pack("S10", "10 ft stick", Decimal(10), (), 3048.0)
    assert (str(pack.quantity), type(pack.length_mm)) == ("10", float)


def test_columns_hold_figures_to_a_millionth_and_money_as_it_is() -> None:
    terms = order_terms.OrderTerms(
        source="A call", stated_on=date(2026, 10, 5), rush_fee=Decimal("12.50"), rush_share=Decimal("0.12345678")
    )
    values = column_values(terms, OrderTerms)
    assert (values["rush_fee"], str(values["rush_share"])) == (Decimal("12.50"), "0.123457")
    assert not values.keys() & {"id", "supplier", "supplier_id"}
