"""What things cost, each beside the least it could cost: python -m tests.bench (or: make bench).

A bench is a function that does the thing once. `against` names the bench of the bare thing.
"""

import os
import statistics
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass

MIN_SECONDS = 1.0
MIN_TURNS = 20


@dataclass(frozen=True)
class Bench:
    name: str
    act: Callable[[], object]
    against: str = ""


def median_ms(act: Callable[[], object]) -> float:
    act()
    took: list[float] = []
    ends_at = time.perf_counter() + MIN_SECONDS
    while len(took) < MIN_TURNS or time.perf_counter() < ends_at:
        began = time.perf_counter()
        act()
        took.append(time.perf_counter() - began)
    return statistics.median(took) * 1000


def ground_benches() -> Iterator[Bench]:
    from django.db import connection, transaction
    from django.test import Client

    from quoting.platform import clock
    from quoting.platform.errands.models import Heartbeat
    from quoting.platform.errands.services.errands import queue_errand, run_errand
    from quoting.platform.people.services.people import add_person
    from tests.quoting.platform.errands import kinds

    owner, _ = add_person("bench", "Bench", "owner")
    client = Client()
    client.force_login(owner)
    numbers = iter(range(10**9))

    def ask_database() -> None:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")

    def commit_twice() -> None:
        for _ in range(2):
            with transaction.atomic():
                Heartbeat.objects.create(name=f"bench {next(numbers)}", beat_at=clock.now())

    def errand() -> None:
        wanted = queue_errand("careless", f"bench {next(numbers)}", {}, clock.now())
        assert run_errand(wanted.pk, "bench") == "done"

    assert kinds.effects_of("bench") == 0
    yield Bench("a bare query", ask_database)
    yield Bench("an empty page", lambda: client.get("/health/live"))
    yield Bench("a page with log-in and role", lambda: client.get("/account/"), against="an empty page")
    yield Bench("two rows committed", commit_twice)
    yield Bench("an errand asked for and done", errand, against="two rows committed")


def report(benches: Iterator[Bench]) -> list[str]:
    values: dict[str, float] = {}
    lines = []
    for bench in benches:
        values[bench.name] = median_ms(bench.act)
        line = f"{bench.name:<38}{values[bench.name]:>10.2f} ms"
        if bench.against:
            line += f"   {values[bench.name] / values[bench.against]:.1f} times {bench.against}"
        lines.append(line)
    return lines


def main() -> None:
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.settings"
    import logging

    import django

    django.setup()
    logging.disable(logging.CRITICAL)
    from django.core.management import call_command

    call_command("migrate", verbosity=0)
    from tests.bench_dates import date_lines
    from tests.bench_job import job_benches
    from tests.bench_money import money_benches
    from tests.bench_month import month_lines
    from tests.bench_pages import page_lines
    from tests.bench_papers import paper_lines
    from tests.bench_plans import plan_lines
    from tests.bench_walls import wall_benches

    for benches in (ground_benches, wall_benches, job_benches, money_benches):
        print("\n".join(report(benches())), flush=True)
    for lines in (paper_lines, plan_lines, date_lines, page_lines, month_lines):
        for line in lines():
            print(line, flush=True)


if __name__ == "__main__":
    main()
