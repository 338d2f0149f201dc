"""The money of a job: cost, bridge, earned; and what a person says is still to go."""

from decimal import Decimal
from fractions import Fraction
from typing import Any

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.plain_text import money
from catalog.core.ground.refusal import Refused
from jobs.jobs.services.jobs import job_of
from quoting.core.money.bridge import Bridge
from quoting.core.money.cost_parts import CostPart
from quoting.core.money.job_costs import CostSum, ItemCost, JobCosts
from quoting.core.money.pace import step_at_this_pace
from quoting.job_money.models import SaidLeft
from quoting.job_money.services.bridge_words import plain as plain_share
from quoting.job_money.services.bridge_words import row_words, says
from quoting.job_money.services.job_costs import JobMoney, money_of
from quoting.job_money.services.saying import say_to_go
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document, day, document_of
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm, signature_of
from quoting.platform.formatting import day_words

SUMS = ("quoted", "agreed", "to_date", "committed", "to_complete", "at_completion")


class Costs(ApiView):
    @describe("read_costs", "What a job costs, by item, each with its rows.", gives="JobCosts", stands=True)
    def get(self, request: Request, key: str) -> Response:
        return Response(of_costs(found_of(key)))


class BridgeOfJob(ApiView):
    @describe("read_bridge", "Where the margin of a job went.", gives="MarginBridge", stands=True)
    def get(self, request: Request, key: str) -> Response:
        bridge = found_of(key).bridge
        if bridge is None:
            raise Refused("The price of this job is nought, so it has no margin.")
        return Response(of_bridge(bridge))


class EarnedOfJob(ApiView):
    @describe("read_earned", "What of the contract is earned, and what is billed.", gives="Earned", stands=True)
    def get(self, request: Request, key: str) -> Response:
        return Response(of_earned(found_of(key)))


class SayLeft(ApiView):
    @describe(
        "say_left",
        "What an item still costs, by name and reason. The same `request_key` says it once.",
        takes="NewLeft",
        gives="SaidLeft",
        status=201,
        again=True,
    )
    def post(self, request: Request, key: str) -> Response:
        now = clock.now()
        row, is_new = say_to_go(job_of(key), document_of(request), signature_of(request.user, now), now=now)
        return Response(of_said(row), status=201 if is_new else 200)


def found_of(key: str) -> JobMoney:
    job = job_of(key)
    result = money_of([job.pk], day_at_the_firm(clock.now())).get(job.pk)
    if result is None:
        raise Refused(f"No quote of {job} is accepted yet, so there is no contract to hold its cost against.")
    return result


def of_costs(result: JobMoney) -> Document:
    costs = result.costs
    return {
        "currency": result.currency,
        "accepted": money(costs.facts.price),
        "contract": money(costs.contract),
        "exposure": money(costs.exposure),
        **_sums(costs),
        "received_not_billed": money(costs.received_not_billed),
        "margin": _share(costs.margin),
        "items": [_item(costs, item) for item in costs.items],
        "missing": [gap.sentence for gap in costs.gaps],
        "warnings": [
            {"kind": warning.kind, "sentence": warning.sentence, "amount": money(warning.amount), "item": warning.item}
            for warning in result.warnings
        ],
    }


def of_bridge(bridge: Bridge) -> Document:
    names = ("quoted_margin", "agreed_margin", "margin", "lost", "changes")
    return {
        **{name: str(getattr(bridge, name)) for name in names},
        "agreed_cost": money(bridge.agreed_cost),
        "cost": money(bridge.cost),
        "causes": [
            {
                "cause": step.cause,
                "amount": money(step.amount),
                "points": str(step.points),
                "says": says(step, day_words),
                "items": [
                    {
                        "category": part.category,
                        "item": part.item,
                        "what": part.what,
                        "amount": money(part.amount),
                        "quantity": plain_share(part.quantity),
                    }
                    for part in step.parts
                ],
            }
            for step in bridge.steps
        ],
    }


def of_earned(result: JobMoney) -> Document:
    earned = result.earned
    return {
        "currency": result.currency,
        "contract": money(earned.contract),
        "share": _share(earned.share),
        "amount": money(earned.amount),
        "billed": money(earned.billed),
        "held": money(result.asked.held.price),
        "over_billed": money(earned.over_billed),
        "unfitted": money(earned.unfitted),
        "share_fitted": _share(earned.share_fitted),
        "amount_fitted": money(earned.amount_fitted),
        "profit": money(earned.profit),
    }


def of_said(row: SaidLeft) -> Document:
    document: dict[str, Any] = {name: getattr(row, name) for name in ("category", "item", "how", "reason")}
    return {**document, "amount": money(row.amount), "by": row.said_by_name, "on": day(row.day)}


def _item(costs: JobCosts, item: ItemCost) -> Document:
    named = {name: getattr(item, name) for name in ("category", "item", "what", "is_coded")}
    pace = money(step_at_this_pace(costs, item.item)) if item.category == "labour" else None
    return {**named, **_sums(item), "at_this_pace": pace, "rows": [_row(part) for part in item.parts]}


def _row(part: CostPart) -> Document:
    return {
        "stage": part.stage,
        "what": row_words(part, day_words),
        "day": day(part.day),
        "quantity": plain_share(part.quantity),
        "amount": money(part.amount),
        "tag": part.tag,
        "cause": part.cause,
        "source": part.source,
        "row": part.row,
    }


def _sums(sums: CostSum) -> Document:
    return {name: money(getattr(sums, name)) for name in SUMS}


def _share(share: Fraction | None) -> str | None:
    """To a millionth."""
    return None if share is None else format(Decimal(share.numerator) / share.denominator, ".6f")
