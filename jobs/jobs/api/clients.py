from django.db import transaction
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from jobs.jobs.models import Client
from jobs.jobs.services.clients import delete_client, list_clients, save_client
from quoting.platform.api.base import ApiView, Document, document_of, held, mark_of, page_of, query_of, tagged
from quoting.platform.api.describing import describe


class Clients(ApiView):
    @describe("list_clients", "Every client.", gives="ClientPage", paged=True)
    def get(self, request: Request) -> Response:
        return page_of(query_of(request), list_clients(), written)

    @describe("add_client", "A new client.", takes="Client", gives="ClientEntry", status=201, tagged=True)
    def post(self, request: Request) -> Response:
        return answered(save_client(document_of(request)), 201)


class OneClient(ApiView):
    @describe("read_client", "One client.", gives="ClientEntry", tagged=True)
    def get(self, request: Request, client_id: int) -> Response:
        return answered(Client.objects.get(pk=client_id))

    @describe(
        "change_client",
        "Make a client, on all their jobs, exactly this.",
        takes="Client",
        gives="ClientEntry",
        tagged=True,
        guarded="the client",
    )
    @transaction.atomic
    def put(self, request: Request, client_id: int) -> Response:
        hold(request, client_id)
        return answered(save_client(document_of(request), client_id))

    @describe("delete_client", "Delete a client who has no job.", status=204, guarded="the client")
    @transaction.atomic
    def delete(self, request: Request, client_id: int) -> Response:
        hold(request, client_id)
        delete_client(client_id)
        return Response(status=204)


def hold(request: Request, client_id: int) -> None:
    held(request, Client.objects.filter(pk=client_id), lambda: written(Client.objects.get(pk=client_id)))


def answered(client: Client, status: int = 200) -> Response:
    document = written(client)
    return tagged(Response(document, status=status), mark_of(document))


def written(client: Client) -> Document:
    return {"id": client.pk, **write(client.to_core())}
