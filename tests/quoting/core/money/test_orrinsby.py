"""Orrinsby Hall, an invented job on 31 May 2027; every figure expected here was worked out apart from the program."""

from decimal import Decimal

from quoting.core.money.bridge import bridge_of
from quoting.core.money.earned import earned_of, unfitted_goods
from quoting.core.money.job_costs import job_costs
from tests.support.orrinsby import on_9_june, orrinsby

D = Decimal


def shown(share):
    return f"{float(share) * 100:.2f}"


def test_101_hours_cost_4923():
    costs = job_costs(orrinsby())
    labour = [part for part in costs.parts if part.stage == "worked"]
    assert sum(part.quantity for part in labour) == 101
    assert costs.of("worked") == D("4923.00")


def test_the_cost_to_date_is_labour_bills_and_goods_not_billed():
    costs = job_costs(orrinsby())
    assert (costs.of("billed"), costs.received_not_billed) == (D("3704.18"), D("458.40"))
    assert costs.to_date == D("9085.58")


def test_the_orders_commit_it_to_2592_60():
    costs = job_costs(orrinsby())
    amounts = sorted(part.amount for part in costs.parts if part.stage == "committed" and part.amount)
    assert amounts == [D("35.00"), D("305.60"), D("352.00"), D("1900.00")]
    assert costs.committed == D("2592.60")


def test_105_hours_sundries_and_the_scaffold_are_to_go():
    costs = job_costs(orrinsby())
    to_go = {part.item: (part.quantity, part.amount) for part in costs.parts if part.stage == "to_go"}
    assert sum(hours for item, (hours, _) in to_go.items()) == 105
    # 33 boards + 44 finishing + 24 trim + 4 niche at 49.50.
    assert sum(amount for _, amount in to_go.values()) == D("5197.50") + D("263.60") + D("135.00")
    assert (to_go["sundries"][1], to_go["scaffold"][1]) == (D("263.60"), D("135.00"))
    assert costs.to_complete == D("8188.70")


def test_it_ends_at_17274_28_and_keeps_33_15_percent():
    costs = job_costs(orrinsby())
    assert (costs.quoted, costs.agreed, costs.at_completion) == (D("15252.00"), D("16072.00"), D("17274.28"))
    assert (costs.contract, costs.contract - costs.at_completion) == (D("25840.00"), D("8565.72"))
    assert shown(costs.margin) == "33.15"
    assert (costs.exposure, costs.gaps) == (D("690.00"), ())


def test_bills_alone_would_show_34_92_percent():
    assert shown(job_costs(orrinsby()).margin_of_bills_alone) == "34.92"


def test_the_bridge_loses_4_85_points_each_with_its_cause():
    bridge = bridge_of(job_costs(orrinsby()))
    assert (bridge.quoted_margin, bridge.agreed_margin, bridge.margin) == (D("38.00"), D("37.80"), D("33.15"))
    assert (bridge.changes, bridge.lost) == (D("0.20"), D("4.85"))
    assert {step.cause: (step.amount, step.points) for step in bridge.steps} == {
        "hours": (D("480.00"), D("1.86")),
        "wage": (D("223.50"), D("0.86")),
        "quantity": (D("22.50"), D("0.09")),
        "price": (D("136.00"), D("0.53")),
        "freight": (D("8.28"), D("0.03")),
        "rework": (D("134.00"), D("0.52")),
        "unbilled": (D("198.00"), D("0.76")),
    }


def test_hours_over_lead_to_the_steps_they_were_worked_on():
    hours = next(step for step in bridge_of(job_costs(orrinsby())).steps if step.cause == "hours")
    # 63 - 58, 50 - 46 and 9 - 8 hours at 48.00.
    assert [(part.item, part.quantity, part.amount) for part in hours.parts] == [
        ("boards", 5, D("240.00")),
        ("framing", 4, D("192.00")),
        ("setting out", 1, D("48.00")),
    ]


def test_13590_81_is_earned_and_6210_81_of_it_not_billed():
    earned = earned_of(job_costs(orrinsby()), D("7380.00"))
    assert (shown(earned.share), earned.amount) == ("52.60", D("13590.81"))
    assert earned.over_billed == D("-6210.81")


def test_the_base_nobody_fits_yet_is_left_out_of_the_share():
    costs = job_costs(orrinsby())
    earned = earned_of(costs, D("7380.00"))
    assert unfitted_goods(costs) == D("1744.00")
    assert shown(earned.unfitted / costs.at_completion) == "10.10"
    assert (shown(earned.share_fitted), earned.amount_fitted) == ("47.27", D("13134.83"))


def test_a_late_bill_moves_it_by_6_00():
    costs = job_costs(on_9_june())
    bridge = bridge_of(costs)
    assert (costs.to_date, costs.at_completion) == (D("9091.58"), D("17280.28"))
    assert (bridge.margin, bridge.lost) == (D("33.13"), D("4.87"))
    price = next(step for step in bridge.steps if step.cause == "price")
    assert (price.amount, price.points) == (D("142.00"), D("0.55"))
    assert earned_of(costs, D("7380.00")).amount == D("13595.06")


def test_each_category_opens_to_its_items_and_they_add_up():
    costs = job_costs(orrinsby())
    assert sum(group.at_completion for group in costs.by_category.values()) == costs.at_completion
    # 4,923.00 worked and 5,197.50 to go.
    assert costs.by_category["labour"].at_completion == D("10120.50")
    assert costs.by_category["labour"].agreed == D("9120.00")
