from typing import Any

from django.db import transaction
from django.db.models import Count, ProtectedError

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import DocumentError, Reader
from catalog.services.row_sync import save_if_changed
from jobs.core.schedule.job_spec import Client as ClientSpec
from jobs.jobs.models import Client
from jobs.jobs.services.changes import fact_changed
from quoting.platform.models.core_values import column_values


def client_for(spec: ClientSpec) -> Client:
    """The client of just these particulars: one who is known, or a new one. Nobody's are changed."""
    figures = column_values(spec, Client)
    return Client.objects.filter(**figures).order_by("pk").first() or Client.objects.create(**figures)


@transaction.atomic
def save_client(document: dict[str, Any], client_id: int | None = None) -> Client:
    """name, address, email, phone, tax_exempt_certificate; of a client who is there, for all their jobs."""
    row = Client() if client_id is None else Client.objects.select_for_update().get(pk=client_id)
    save_if_changed(row, column_values(read(ClientSpec, Reader(document)), Client))
    fact_changed(*row.jobs.values_list("pk", flat=True))
    return row


def delete_client(client_id: int) -> None:
    row = Client.objects.get(pk=client_id)
    try:
        row.delete()
    except ProtectedError as error:
        raise DocumentError.at(
            "client", f"{row.name} has {len(error.protected_objects)} jobs and cannot be deleted"
        ) from error


def list_clients() -> list[Client]:
    return list(Client.objects.annotate(job_count=Count("jobs")))
