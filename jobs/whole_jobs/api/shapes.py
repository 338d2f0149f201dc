"""What the API shows of jobs in a list."""

from datetime import date
from typing import Annotated, Any

from catalog.core.ground.declared import Count, Of, Part, View


class JobInShort(View):
    """A job in a list."""

    key: str
    title: str
    client: Annotated[str, Of("client.name")]
    client_id: Annotated[int, Count(1)]
    start_on: date | None
    closed_on: date | None
    version: Annotated[int, Count(1), "Rises with every change; the ETag holds it."]
    wall_count: int
    life: Annotated[dict[str, Any], Part("Life"), Of(lambda job, lives: lives[job.pk])]
