"""One material in the place of another, by a change note the client signs."""

from datetime import datetime

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.core.ground.lengths import length
from catalog.core.ground.plain_text import plain
from catalog.core.ground.units import System
from catalog.models import Firm
from catalog.pages.words import system_of
from jobs.deliveries.api.shapes.claims import CheckedNeed
from jobs.deliveries.services.replacements import need_check
from jobs.jobs.models import Job
from jobs.jobs.services.jobs import job_of
from jobs.orders.models import OrderLine
from quoting.changes.models import Substitution
from quoting.changes.services.stand_ins import Offered, choices_of
from quoting.changes.services.substitutions import substitute, substitutions_of
from quoting.platform import clock
from quoting.platform.api.base import Document, WorkingView, document_of, without
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm, moment_at_the_firm


class Substitutions(WorkingView):
    @describe(
        "list_substitutions",
        "Materials in the place of others, with whether they would come in time if ordered today.",
        gives="Substitutions",
        stands=True,
    )
    def get(self, request: Request, key: str) -> Response:
        moment = moment_at_the_firm(clock.now())
        return Response({"substitutions": [of_substitution(row, moment) for row in substitutions_of(job_of(key))]})

    @describe(
        "substitute",
        "Price one material in the place of another as a draft of a change note. Asked while it stands it is the same.",
        takes="NewSubstitution",
        gives="Substitution",
        status=201,
        works=True,
        again=True,
    )
    def post(self, request: Request, key: str) -> Response:
        job, document, now = job_of(key), document_of(request), clock.now()
        line, today = _line(job, document), day_at_the_firm(now)
        given = without(document, "order", "place")
        row, is_new = substitute(job, given, by=request.user, now=now, today=today, line=line)
        return Response(of_substitution(row, moment_at_the_firm(now)), status=201 if is_new else 200)


class StandIns(WorkingView):
    @describe(
        "list_stand_ins",
        "What may take a material's place on the walls as agreed: of the same use, and bending so far there.",
        gives="StandIns",
        works=True,
    )
    def get(self, request: Request, key: str, code: str) -> Response:
        choices = choices_of(job_of(key), code, day_at_the_firm(clock.now()))
        system = system_of(Firm.objects.first())
        left_out = [{"material": entry.material.code, "why": entry.sentence} for entry in choices.left_out]
        offered = [of_offered(entry, system) for entry in choices.offered]
        return Response({"material": code, "offered": offered, "left_out": left_out})


def of_offered(offered: Offered, system: System) -> Document:
    radii = (offered.stand_in.tightest_mm, offered.stand_in.least_radius_mm)
    tightest, least = (length(radius, system) if radius else None for radius in radii)
    return {
        "material": offered.material.code,
        "name": offered.material.name,
        "price": None if offered.price is None else plain(round(offered.price, 4)),
        "unit": offered.material.unit_used,
        "tightest_radius": tightest,
        "least_radius": least,
        "lead_workdays": offered.lead_workdays,
    }


def _line(job: Job, document: Document) -> OrderLine | None:
    reader = Reader(document)
    number, place = reader.optional_text("order"), reader.optional_whole("place", 0, 5_000)
    if (number is None) != (place is None):
        raise DocumentError.at("order", "goes with place: name both of them, or neither")
    if number is None:
        return None
    row = OrderLine.objects.filter(order__number=number, place=place, job=job).select_related("order").first()
    if row is None:
        raise DocumentError.at("order", f'"{number}" has no line {place} for this job')
    return row


def of_substitution(row: Substitution, moment: datetime) -> Document:
    wanted = row.job.needs.filter(material=row.material_id).first()
    need_by = row.line.need_by if row.line else wanted.need_by if wanted else None
    check = need_check(row.job, row.instead, need_by, order_day=moment.date(), placed_at=moment.time())
    return {
        "id": row.pk,
        "order": row.line.order.number if row.line else None,
        "place": row.line.place if row.line else None,
        "material": row.material_id,
        "instead": row.instead_id,
        "reason": row.reason,
        "draft": row.draft_id,
        "note": row.note.number if row.note else None,
        "standing": row.note.state if row.note else "priced" if row.draft_id else "dropped",
        "made_by": row.made_by_name,
        "need": write(check, CheckedNeed),
    }
