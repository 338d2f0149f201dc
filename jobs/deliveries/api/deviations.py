"""What goes otherwise than ordered, for the desk: of all open jobs, of one order with what helps, and settled."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.plain_text import money
from jobs.deliveries.api.receiving import placed
from jobs.deliveries.services.deviation_remedies import remedies_of
from jobs.deliveries.services.deviations import LineDeviation, otherwise, otherwise_of_order, settle
from jobs.deliveries.services.order_events import line_at
from jobs.orders.api.orders import of_ways
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document, WorkingView, day, document_of
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm, moment_at_the_firm, signature_of


class Deviations(ApiView):
    @describe("list_deviations", "What goes otherwise than ordered, of all open jobs.", gives="Deviations")
    def get(self, request: Request) -> Response:
        standing = otherwise(day_at_the_firm(clock.now()))
        return Response({"deviations": [of_deviation(row) for row in standing.deviations], "bad": list(standing.bad)})


class OrderDeviations(WorkingView):
    @describe(
        "read_order_deviations",
        "What of an order goes otherwise than ordered, and what helps with what is late.",
        gives="OrderDeviations",
        works=True,
    )
    def get(self, request: Request, number: str) -> Response:
        moment = moment_at_the_firm(clock.now())
        rows = otherwise_of_order(placed(number).pk, moment.date())
        remedies = [
            {"job": ways.item.job.key, "material": ways.item.need.material, "remedies": of_ways(ways)["remedies"]}
            for ways in remedies_of(rows, moment)
        ]
        return Response({"deviations": [of_deviation(row) for row in rows], "remedies": remedies})


class SettleDeviation(ApiView):
    @describe(
        "settle_deviation",
        "Accept under your name what goes otherwise than ordered, or enter that the supplier was asked again.",
        takes="NewSettlement",
        gives="Deviations",
    )
    def post(self, request: Request, number: str, place: int) -> Response:
        now, order = clock.now(), placed(number)
        settle(line_at(order, place), document_of(request), signature_of(request.user, now), now=now)
        rows = otherwise_of_order(order.pk, day_at_the_firm(now))
        return Response({"deviations": [of_deviation(row) for row in rows], "bad": []})


def of_deviation(row: LineDeviation) -> Document:
    deviation = row.deviation
    return {
        "order": deviation.order,
        "job": row.line.job.key,
        "place": row.line.place,
        "what": row.line.what,
        "kind": deviation.kind,
        "mark": deviation.mark,
        "sentence": deviation.sentence,
        "action": deviation.action,
        "who": deviation.step,
        "since": day(deviation.since),
        "usable": day(deviation.usable),
        "late_workdays": deviation.late_workdays,
        "extra": None if deviation.extra is None else money(deviation.extra),
    }
