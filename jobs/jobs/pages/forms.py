from typing import Any

from django.http import QueryDict

from catalog.core.ground.declared import entries_of, write
from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from jobs.core.schedule.job_spec import Client as ClientSpec
from jobs.core.schedule.job_spec import JobSpec
from jobs.jobs.models import Client, Job
from quoting.platform.pages.declared_fields import form_of
from quoting.platform.pages.entry_form import EntryForm, pick, text

CLIENT = tuple(entry.name for entry in entries_of(ClientSpec))
JOB = ("title", "site_address", "purchase_order", "start_on", "crew")
NEW = "new"
MAX_NAMES = 200


class ClientForm(EntryForm):
    declares = ClientSpec

    name = text("Name")
    address = text("Address", rows=3)
    email = text("E-mail", longest=254)
    phone = text("Phone")
    tax_exempt_certificate = text("Tax exemption certificate", "Its number; empty when the client pays tax.")


class JobForm(form_of(JobSpec, *JOB)):
    """One job with its client: picked among those known, or entered below."""

    note = text("Note", "For the office; not printed.", rows=3)
    client = pick("Known client", ())
    client_name = text("Client", longest=200)
    client_address = text("Address", rows=3)
    client_email = text("E-mail", longest=254)
    client_phone = text("Phone", longest=60)
    client_tax_exempt_certificate = text("Tax exemption certificate", "Its number; empty when the client pays tax.")

    stands_at = {"client": "client", **{f"client.{name}": f"client_{name}" for name in CLIENT}}
    ABOUT = (*JOB, "note", "client")
    OPEN = ("title", "client_name")

    def __init__(self, data: QueryDict | None = None, initial: dict[str, Any] | None = None) -> None:
        super().__init__(data, initial)
        known = list(Client.objects.values_list("pk", "name", "address"))
        self.names = list(dict.fromkeys(name for _, name, _ in known))[:MAX_NAMES]
        self.fields["client_name"].widget.attrs["list"] = "client-names"
        self.fields["client"].choices = [  # type: ignore[attr-defined]
            (NEW, "a new client, entered below"),
            *((str(pk), f"{name}, {address.splitlines()[0]}" if address else name) for pk, name, address in known),
        ]

    def open_fields(self) -> list[Any]:
        """What a new job needs; the rest is folded."""
        return [self[name] for name in self.OPEN]

    def folded_fields(self) -> list[Any]:
        rest = (*self.ABOUT, *(f"client_{name}" for name in CLIENT))
        return [self[name] for name in rest if name not in self.OPEN]

    @property
    def folded_is_wrong(self) -> bool:
        return any(field.errors for field in self.folded_fields()) if self.is_bound else False

    def document(self) -> dict[str, Any]:
        """The parts `client` and `job` of a job file."""
        entries = self.entries()
        about = {name: entries[name] for name in JOB if name in entries}
        return {"client": self._client(entries), "job": about}

    def whole_document(self) -> dict[str, Any]:
        """The same, with what was emptied said to be empty."""
        document = self.document()
        empty = {**dict.fromkeys(JOB), "title": ""}
        return document | {"job": {**empty, **document["job"]}}

    def _client(self, entries: dict[str, Any]) -> dict[str, Any]:
        if entries.get("client", NEW) == NEW:
            typed = {name: entries[f"client_{name}"] for name in CLIENT if f"client_{name}" in entries}
            known = self._known_as(typed)
            return write(known.to_core()) if known else {"name": "", **typed}
        row = Client.objects.filter(pk=entries["client"]).first()
        if row is None:
            gone = "has been deleted; choose another client or enter a new one"
            raise DocumentError([DocumentProblem("client", gone)])
        return write(row.to_core())

    @staticmethod
    def _known_as(typed: dict[str, Any]) -> Client | None:
        """The client of that name, where only one has it and nothing else is typed of a new one."""
        rows = list(Client.objects.filter(name__iexact=typed.get("name", ""))[:2]) if set(typed) == {"name"} else []
        return rows[0] if len(rows) == 1 else None

    def _field_at(self, path: str) -> str | None:
        return super()._field_at(path.removeprefix("job."))


def filled(job: Job) -> dict[str, Any]:
    return {
        **{name: str(getattr(job, name) or "") for name in JOB},
        "note": job.note,
        "client": str(job.client_id),
    }
