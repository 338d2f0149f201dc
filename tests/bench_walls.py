"""What a wall's page costs: the preview is to answer within 200 ms of server time."""

from collections.abc import Iterator
from datetime import UTC, datetime
from itertools import count

from tests.bench import Bench


def wall_benches() -> Iterator[Bench]:
    from django.test import Client
    from django.urls import reverse

    from quoting.platform import clock
    from quoting.platform.people.services.people import add_person
    from tests.documents import JOBS
    from tests.stored import stored_job
    from tests.support.wall_posts import form_of

    estimator, _ = add_person("bench-estimator", "Bench", "estimator")
    client = Client()
    client.force_login(estimator)
    heights = count(1)
    frozen = clock.FrozenClock(datetime(2026, 10, 5, 9, 0, tzinfo=UTC))

    def preview(wall: object, data: dict[str, object]) -> None:
        # Another spacing each time, so that nothing is remembered from the time before.
        typed = data | {"stud_spacing": f"{203 - next(heights) / 1000} mm"}
        url = reverse("wall_preview", args=[wall.job_id, wall.key])  # type: ignore[attr-defined]
        with clock.use(frozen):
            assert b"<svg" in client.post(url, typed).content

    for name in JOBS:
        wall = stored_job(name).walls.first()
        data = form_of(wall)
        yield Bench(f"preview, {wall.name}"[:34], lambda wall=wall, data=data: preview(wall, data))
