"""What the wall's form posts, for the tests of its page."""

from typing import Any

from jobs.walls.pages.entries import WallEntries, entries_of
from jobs.walls.pages.exact_entries import written


def posted(entries: WallEntries, **more: Any) -> dict[str, Any]:
    data = {name: value for name, value in entries.one.items() if value}
    for name, rows in entries.rows.items():
        for place, row in enumerate(rows):
            data |= {f"{name}-{place}-{leaf}": value for leaf, value in row.items() if value}
    return data | {"exact": written(entries.exact)} | more


def form_of(wall: Any, **more: Any) -> dict[str, Any]:
    """The form as the page of a stored wall fills it."""
    return posted(entries_of(wall.to_core(), "imperial"), seen_version=wall.version, **more)
