"""One material in the place of another, by a change note the client signs."""

from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from catalog.models import Firm
from catalog.pages.words import system_of
from jobs.jobs.services.jobs import job_of
from quoting.changes.api.shapes import substitutions as shapes
from quoting.changes.services.stand_ins import choices_of
from quoting.changes.services.substitutions import substitute, substitutions_of
from quoting.platform import clock
from quoting.platform.api.base import WorkingView, document_of
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
        rows, moment = substitutions_of(job_of(key)), moment_at_the_firm(clock.now())
        return Response(write(rows, shapes.SubstitutionsShown, within=moment))

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
        now = clock.now()
        row, is_new = substitute(
            job_of(key), document_of(request), by=request.user, now=now, today=day_at_the_firm(now)
        )
        answer = write(row, shapes.SubstitutionShown, within=moment_at_the_firm(now))
        return Response(answer, status=201 if is_new else 200)


class StandIns(WorkingView):
    @describe(
        "list_stand_ins",
        "What may take a material's place on the walls as agreed: of the same use, and bending so far there.",
        gives="StandIns",
        works=True,
    )
    def get(self, request: Request, key: str, code: str) -> Response:
        choices = choices_of(job_of(key), code, day_at_the_firm(clock.now()))
        return Response(write(choices, shapes.StandInsShown, system=system_of(Firm.objects.first())))
