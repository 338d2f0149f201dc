from django.http import HttpRequest, JsonResponse

from quoting.platform import clock
from quoting.service.audit.services import health


def live(request: HttpRequest) -> JsonResponse:
    return JsonResponse({"status": "ok"})


def ready(request: HttpRequest) -> JsonResponse:
    findings = health.examine(clock.now())
    well = all(finding.well for finding in findings)
    body = {
        "status": "ok" if well else "wrong",
        "checks": {finding.name: {"ok": finding.well, "says": finding.says} for finding in findings},
    }
    response = JsonResponse(body, status=200 if well else 503)
    response["Cache-Control"] = "no-store"
    return response
