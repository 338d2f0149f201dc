"""What the wall's form posts, for the tests of its page."""

from typing import Any

from jobs.walls.pages.form.exact_entries import written
from jobs.walls.pages.form.typed_wall import EVERY_PART, TypedWall, typed_of


def posted(typed: TypedWall, **more: Any) -> dict[str, Any]:
    """With every line of the form opened."""
    filled = {name: value for name, value in typed.texts.items() if value}
    return filled | {"part": list(EVERY_PART), "exact": written(typed.exact)} | more


def form_of(wall: Any, **more: Any) -> dict[str, Any]:
    """The form as the page of a stored wall fills it."""
    return posted(typed_of(wall.to_core(), "imperial"), seen_version=wall.version, **more)


def with_row(typed: TypedWall, list_name: str, /, **entries: str) -> None:
    """One more row of a list, as a button of the form adds it, with entries typed in."""
    typed.change(f"add-{list_name}")
    rows = typed.rows(list_name)
    typed.put(list_name, [*rows[:-1], rows[-1] | entries])
