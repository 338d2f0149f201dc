from rest_framework.request import Request
from rest_framework.response import Response

from jobs.core.schedule.job_document import write_client
from jobs.jobs.models import Client
from jobs.jobs.services.clients import delete_client, list_clients, save_client
from quoting.platform.api.base import ApiView, Document, asked, document_of, page_of
from quoting.platform.api.describing import describe


class Clients(ApiView):
    @describe("list_clients", "Every client.", gives="ClientPage", paged=True)
    def get(self, request: Request) -> Response:
        return page_of(asked(request), list_clients(), written)

    @describe("add_client", "A new client.", takes="Client", gives="ClientEntry", status=201)
    def post(self, request: Request) -> Response:
        return Response(written(save_client(document_of(request))), status=201)


class OneClient(ApiView):
    @describe("read_client", "One client.", gives="ClientEntry")
    def get(self, request: Request, client_id: int) -> Response:
        return Response(written(Client.objects.get(pk=client_id)))

    @describe("change_client", "Make a client, on all their jobs, exactly this.", takes="Client", gives="ClientEntry")
    def put(self, request: Request, client_id: int) -> Response:
        return Response(written(save_client(document_of(request), client_id)))

    @describe("delete_client", "Delete a client who has no job.", status=204)
    def delete(self, request: Request, client_id: int) -> Response:
        delete_client(client_id)
        return Response(status=204)


def written(client: Client) -> Document:
    return {"id": client.pk, **write_client(client.to_core())}
