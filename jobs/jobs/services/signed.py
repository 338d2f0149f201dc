"""Which jobs are signed: a quote of them stands accepted. Asked of the rows of the quotes, and stored nowhere else."""

from collections.abc import Callable, Mapping
from typing import Any

from django.db.models import Case, IntegerField, Q, QuerySet, When

from quoting.platform.read_once import few_of

SIGNED, UNSIGNED = "signed", "unsigned"
WORKS: Mapping[str, str] = {SIGNED: "Signed", UNSIGNED: "Not signed"}
Ids = QuerySet[Any, int]
_readers: list[Callable[[], Ids]] = []


def read_signed_with(reader: Callable[[], Ids]) -> None:
    """reader: the ids of the jobs signed, to be read or put into another query; no room here knows of quotes."""
    _readers.append(reader)


def signed_jobs() -> Ids:
    return _readers[-1]()


def of_work(work: str, job: str = "job") -> Q:
    """Rows of signed or of unsigned jobs, or of all where work is empty. job: the column that names the job."""
    if work not in WORKS:
        return Q()
    signed = Q(**{f"{job}__in": few_of(signed_jobs(), "signed jobs")})
    return signed if work == SIGNED else ~signed


def unsigned_last(job: str = "job") -> Case:
    """To sort by: rows of signed jobs come first."""
    return Case(When(of_work(SIGNED, job), then=0), default=1, output_field=IntegerField())


def work_typed(text: str) -> str:
    """What a page is asked for in its address; empty for both."""
    return text if text in WORKS else ""
