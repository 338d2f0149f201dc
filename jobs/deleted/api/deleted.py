"""What was deleted of a job, and putting it back, by program."""

from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from jobs.deleted.api.shapes import DeletedList, DeletedPart
from jobs.deleted.models import Deleted
from jobs.deleted.services.deleted import Deletion, deleted_of, may_put_back, put_back
from jobs.jobs.services.jobs import job_of
from quoting.platform import clock
from quoting.platform.api.base import ApiView
from quoting.platform.api.describing import describe
from quoting.platform.people.access import role_of


class DeletedParts(ApiView):
    @describe(
        "list_deleted", "What of a job was deleted in the last thirty days and may be put back.", gives="DeletedList"
    )
    def get(self, request: Request, key: str) -> Response:
        rows = deleted_of(job_of(key), role_of(request.user), clock.now())
        return Response(write(rows, DeletedList))


class PutBack(ApiView):
    @describe(
        "put_back",
        "Put back what was deleted, as it was. Safe to repeat.",
        gives="DeletedPart",
        stands=True,
    )
    def post(self, request: Request, key: str, deleted_id: int) -> Response:
        row = Deleted.objects.select_related("job").get(pk=deleted_id, job=job_of(key))
        if not may_put_back(row, role_of(request.user)):
            raise PermissionDenied
        return Response(write(put_back(row, Deletion(request.user.full_name, clock.now())), DeletedPart))
