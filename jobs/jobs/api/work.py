"""The part of a query that asks for signed or for unsigned work alone."""

from catalog.core.ground.document_reader import Reader
from jobs.jobs.services.signed import WORKS
from quoting.platform.api.describing import Query

WORK = Query("work", {"enum": list(WORKS)}, "Of signed jobs alone, or of those that are not; of both when not said.")


def work_asked(query: Reader) -> str:
    """Empty for both."""
    return query.optional_choice("work", WORKS) or ""
