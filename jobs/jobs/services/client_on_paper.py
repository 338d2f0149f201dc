from typing import Any

from quoting.platform.papers.parts import Party


def client_party(client: Any, *more: str) -> Party:
    """Who a paper is for: name and address of a client, and what else is said of it."""
    lines = (*client.address.splitlines(), *more)
    return Party(client.name, tuple(line.strip() for line in lines if line.strip()))
