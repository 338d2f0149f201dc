from typing import Any

from quoting.platform.papers.parts import Party


def client_party(client: Any, *more: str) -> Party:
    """Who a paper is for: name and address of a client, and what else is said of it."""
    lines = (*client.address.splitlines(), *more)
    return Party(client.name, tuple(line.strip() for line in lines if line.strip()))


def party_of_job(job: Any, *more: str) -> Party:
    """The client of a job, with its number for what it ordered. job: the row or the core's value."""
    ordered = (f"Purchase order {job.purchase_order}",) if job.purchase_order else ()
    return client_party(job.client, *more, *ordered)
