"""The lead-time record of a material, accepting what it suggests, and how a supplier delivers."""

from decimal import Decimal

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.api.catalog import read
from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import Reader
from catalog.core.leads.lead_record import LeadEvidence, LeadReceipt, kept_so_far
from catalog.models import Supplier
from catalog.services.planned_leads import (
    accept_planned_lead,
    end_planned_lead,
    read_acceptance,
    read_confidence,
    standing_plan,
    suggestion,
)
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
        "record suggests others by now nothing is accepted. Sent twice it is accepted once.",
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
        "What came of a supplier's orders: receipts, on promise, early and late, damaged and wrong.",
        gives="SupplierScore",
    )
    def get(self, request: Request, code: str) -> Response:
        score = score_of(Supplier.objects.prefetch_related("closures").get(code=code))
        return Response(
            {
                "supplier": code,
                "receipts": score.receipts,
                "promised": score.promised,
                "kept": score.kept,
                "on_the_day": score.on_the_day,
                "early": score.early,
                "late": score.late,
                "median_early_workdays": score.median_early_workdays,
                "median_late_workdays": score.median_late_workdays,
                "damaged": score.damaged,
                "wrong": score.wrong,
            }
        )


def _record(code: str, confidence: Decimal) -> Document:
    today, spec = day_at_the_firm(clock.now()), read(code).to_core()
    receipts = lead_receipts(today)
    suggested, firm = suggestion(spec, receipts, today, confidence), kept_so_far(receipts, confidence=float(confidence))
    standing, stale = standing_plan(spec, today)
    return {
        "material": code,
        "suggestion": _suggestion(suggested.evidence) if suggested else None,
        "kept_by_all": {"kept": firm.kept, "judged": firm.judged, "share": firm.share},
        "standing": write(standing) if standing else None,
        "stale": stale,
        "accepted": [write(lead) for lead in spec.planned_leads],
    }


def _suggestion(evidence: LeadEvidence) -> Document:
    share = evidence.kept
    return {
        "quoted_workdays": evidence.quoted_workdays,
        "confidence": evidence.confidence,
        "plan_workdays": evidence.plan_workdays,
        "exact_workdays": round(evidence.exact_workdays, 2),
        "sentence": evidence.sentence,
        "receipts": [_receipt(receipt) for receipt in evidence.used],
        "kept": {"kept": share.kept, "judged": share.judged, "share": share.share},
    }


def _receipt(receipt: LeadReceipt) -> Document:
    return {
        "received_on": None if receipt.is_open else receipt.received_on.isoformat(),
        "ordered_on": receipt.ordered_on.isoformat() if receipt.ordered_on else None,
        "quoted_workdays": receipt.quoted_workdays,
        "actual_workdays": receipt.actual_workdays,
        "ratio": round(receipt.ratio, 6),
    }
