"""The lead-time record of a material, accepting what it suggests, and how a supplier delivers."""

from decimal import Decimal

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.api.catalog import read
from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import Reader
from catalog.core.leads.lead_record import kept_so_far
from catalog.models import Supplier
from catalog.services.planned_leads import (
    accept_planned_lead,
    end_planned_lead,
    read_acceptance,
    read_confidence,
    standing_plan,
    suggestion,
)
from jobs.deliveries.api.shapes import lead_record as shapes
from jobs.deliveries.services.lead_record import lead_receipts, score_of
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document, document_of, query_of
from quoting.platform.api.describing import Query, describe
from quoting.platform.firm_day import day_at_the_firm, signature_of

CONFIDENCE = Query(
    "confidence",
    {"type": "number", "minimum": 0.5, "maximum": 0.995, "default": 0.9},
    "The share of orders meant to come within the days suggested.",
)


class LeadRecord(ApiView):
    @describe(
        "read_lead_record",
        "What the record suggests to plan a material with, the evidence, the share kept so far, and what was accepted.",
        gives="LeadRecord",
        query=(CONFIDENCE,),
    )
    def get(self, request: Request, code: str) -> Response:
        query = query_of(request)
        confidence = read_confidence(query)
        query.finish()
        return Response(_record(code, confidence))

    @describe(
        "accept_planned_lead",
        "Plan a material with the days suggested, in your name and from today. The days are those you saw: if the "
        "record suggests others by now nothing is accepted. Safe to repeat.",
        takes="PlanToAccept",
        gives="LeadRecord",
    )
    def put(self, request: Request, code: str) -> Response:
        read(code)
        seen, signature = read_acceptance(Reader(document_of(request))), signature_of(request.user, clock.now())
        accept_planned_lead(code, seen, lead_receipts(signature.on), by=signature.by, on=signature.on)
        return Response(_record(code, seen[1]))

    @describe("end_planned_lead", "Plan the material with the quoted days again.", status=204)
    def delete(self, request: Request, code: str) -> Response:
        read(code)
        signature = signature_of(request.user, clock.now())
        end_planned_lead(code, by=signature.by, on=signature.on)
        return Response(status=204)


class ScoreOfSupplier(ApiView):
    @describe(
        "read_supplier_score",
        "A supplier's record: receipts, on promise, early and late, damaged and wrong.",
        gives="SupplierScore",
    )
    def get(self, request: Request, code: str) -> Response:
        score = score_of(Supplier.objects.prefetch_related("closures").get(code=code))
        return Response(write(shapes.SupplierScore(code, score)))


def _record(code: str, confidence: Decimal) -> Document:
    today, spec = day_at_the_firm(clock.now()), read(code).to_core()
    receipts = lead_receipts(today)
    suggested, firm = suggestion(spec, receipts, today, confidence), kept_so_far(receipts, confidence=float(confidence))
    standing, stale = standing_plan(spec, today)
    return write(
        shapes.LeadRecord(code, suggested.evidence if suggested else None, firm, standing, stale, spec.planned_leads)
    )
