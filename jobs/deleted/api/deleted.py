"""What was deleted of a job, and putting it back, by program."""

from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request
from rest_framework.response import Response

from jobs.deleted.models import Deleted
from jobs.deleted.services.deleted import Deletion, deleted_of, may_put_back, put_back
from jobs.jobs.services.jobs import job_of
from quoting.platform import clock
from quoting.platform.api.base import ApiView, Document
from quoting.platform.api.describing import describe
from quoting.platform.people.access import role_of


class DeletedParts(ApiView):
    @describe(
        "list_deleted", "What of a job was deleted in the last thirty days and may be put back.", gives="DeletedList"
    )
    def get(self, request: Request, key: str) -> Response:
        rows = deleted_of(job_of(key), role_of(request.user), clock.now())
        return Response({"deleted": [of_deleted(row) for row in rows]})


class PutBack(ApiView):
    @describe(
        "put_back",
        "Put back what was deleted, as it was. Asked twice it is done once.",
        gives="DeletedPart",
        stands=True,
    )
    def post(self, request: Request, key: str, deleted_id: int) -> Response:
        row = Deleted.objects.select_related("job").get(pk=deleted_id, job=job_of(key))
        if not may_put_back(row, role_of(request.user)):
            raise PermissionDenied
        return Response(of_deleted(put_back(row, Deletion(request.user.full_name, clock.now()))))


def of_deleted(row: Deleted) -> Document:
    return {
        "id": row.pk,
        "kind": row.kind,
        "key": row.key,
        "name": row.name,
        "deleted_at": row.deleted_at.isoformat(),
        "deleted_by": row.deleted_by_name,
        "until": row.until.isoformat(),
        "put_back_at": row.put_back_at.isoformat() if row.put_back_at else None,
        "put_back_by": row.put_back_by_name or None,
    }
