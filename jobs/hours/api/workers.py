"""The firm's workers, how their minutes count, and rates entered late. The owner's."""

from django.db import transaction
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.api.catalog import answered
from catalog.core.ground.declared import Document
from jobs.hours.api.shapes import LateRatesShown, WorkerShown, WorkersShown
from jobs.hours.models import Worker
from jobs.hours.services.counting import rounding, set_rounding
from jobs.hours.services.refreezing import freeze_anew, late_rates
from jobs.hours.services.workers import change_worker, enter_worker
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of, held
from quoting.platform.api.declared import shown
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import signature_of


class Workers(ApiView):
    @describe("list_workers", "The firm's workers, and how their minutes count.", gives="Workers")
    def get(self, request: Request) -> Response:
        return Response(shown(request, Worker.objects.select_related("person"), WorkersShown))

    @describe(
        "enter_worker",
        "Somebody whose hours are entered. The same `request_key` enters them once.",
        takes="NewWorker",
        gives="Worker",
        status=201,
        again=True,
    )
    def post(self, request: Request) -> Response:
        now = clock.now()
        row, is_new = enter_worker(document_of(request), signature_of(request.user, now), now=now)
        return Response(of_worker(request, row), status=201 if is_new else 200)


class OneWorker(ApiView):
    @describe("read_worker", "One worker.", gives="Worker", tagged=True)
    def get(self, request: Request, worker_id: int) -> Response:
        return answered(of_worker(request, worker(worker_id)))

    @describe(
        "change_worker",
        "A worker as they are from now on; hours keep the rate they were entered by.",
        takes="WorkerChanges",
        gives="Worker",
        tagged=True,
        guarded="the worker",
    )
    @transaction.atomic
    def put(self, request: Request, worker_id: int) -> Response:
        row = worker(worker_id)
        held(request, Worker.objects.filter(pk=worker_id), lambda: of_worker(request, worker(worker_id)))
        change_worker(row, document_of(request), signature_of(request.user, clock.now()))
        return answered(of_worker(request, worker(worker_id)))


class HoursRounding(ApiView):
    @describe("read_rounding", "How minutes count.", gives="Rounding", tagged=True)
    def get(self, request: Request) -> Response:
        return answered({"rounding": rounding()})

    @describe(
        "set_rounding",
        "How minutes count from now on; the time that was typed is kept.",
        takes="Rounding",
        gives="Rounding",
        tagged=True,
        guarded="the rounding",
    )
    @transaction.atomic
    def put(self, request: Request) -> Response:
        held(request, Worker.objects.none(), lambda: {"rounding": rounding()})
        return answered({"rounding": set_rounding(document_of(request)).rounding})


class LateRates(ApiView):
    @describe("list_late_rates", "Entries of open months a labour rate entered late would change.", gives="LateRates")
    def get(self, request: Request) -> Response:
        return Response(shown(request, late_rates(), LateRatesShown))

    @describe(
        "freeze_rates_anew",
        "Give entries the rate of their day as it is known now.",
        takes="RatesToFreeze",
        gives="FrozenRates",
    )
    def post(self, request: Request) -> Response:
        return Response({"changed": freeze_anew(document_of(request))})


def of_worker(request: Request, row: Worker) -> Document:
    return shown(request, row, WorkerShown)


def worker(worker_id: int) -> Worker:
    result: Worker = Worker.objects.select_related("person").get(pk=worker_id)
    return result
