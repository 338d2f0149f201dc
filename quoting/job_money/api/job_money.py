"""The money of a job: cost, bridge, earned; and what a person says is still to go."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from catalog.core.ground.refusal import Refused
from jobs.jobs.services.jobs import job_of
from quoting.job_money.api.shapes.job_money import EarnedShown, JobCostsShown, MarginBridge, SaidLeftShown
from quoting.job_money.services.job_costs import JobMoney, money_of
from quoting.job_money.services.saying import say_to_go
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm, signature_of


class Costs(ApiView):
    @describe("read_costs", "What a job costs, by item, each with its rows.", gives="JobCosts", stands=True)
    def get(self, request: Request, key: str) -> Response:
        return Response(write(found_of(key), JobCostsShown))


class BridgeOfJob(ApiView):
    @describe("read_bridge", "Where the margin of a job went.", gives="MarginBridge", stands=True)
    def get(self, request: Request, key: str) -> Response:
        bridge = found_of(key).bridge
        if bridge is None:
            raise Refused("The price of this job is zero, so it has no margin.")
        return Response(write(bridge, MarginBridge))


class EarnedOfJob(ApiView):
    @describe("read_earned", "What of the contract is earned, and what is billed.", gives="Earned", stands=True)
    def get(self, request: Request, key: str) -> Response:
        return Response(write(found_of(key), EarnedShown))


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
        return Response(write(row, SaidLeftShown), status=201 if is_new else 200)


def found_of(key: str) -> JobMoney:
    job = job_of(key)
    result = money_of([job.pk], day_at_the_firm(clock.now())).get(job.pk)
    if result is None:
        raise Refused(f"No quote of {job} is accepted yet, so there is no contract to hold its cost against.")
    return result
