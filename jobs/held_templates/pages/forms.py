"""What is entered of a template: short enough to be typed on a phone beside the wall."""

from collections.abc import Iterable
from typing import Any

from django.http import QueryDict

from jobs.core.measure.wall_spec import WallSpec
from jobs.core.takeoff.held_templates import STATE_WORDS
from quoting.platform.pages.entry_form import EntryForm, day, pick, text


def places_of(walls: Iterable[WallSpec]) -> list[tuple[str, str]]:
    """A wall with one of its runs of trim, or the wall alone. A key holds no "|"."""
    choices = []
    for wall in walls:
        runs = sorted(wall.trims, key=lambda run: run.form != "template")
        choices += [(f"{wall.key}|{run.name}", f"{wall.name}: {run.name}") for run in runs]
        choices.append((f"{wall.key}|", f"{wall.name}: no run of trim in particular"))
    return choices


class TemplateForm(EntryForm):
    name = text("Written on it", "Its own name, such as T1. Two templates of a job never share one.", longest=100)
    place = pick("Traced for", ())
    shape = text("Shape it holds", "Such as the back of the base along piece 2, from the door to the end.", longest=500)
    piece = text("Piece of the wall", "Its number; empty for more than one.", longest=3)
    kept_at = text("Kept at", "Where the next person finds it.", longest=200)
    traced_by = text("Traced by", longest=200)
    traced_on = day("Traced on")

    stands_at = {"wall": "place", "line": "place"}

    def __init__(self, data: QueryDict | None, walls: Iterable[WallSpec], *args: Any, **options: Any) -> None:
        super().__init__(data, *args, **options)
        self.fields["place"].choices = places_of(walls)  # type: ignore[attr-defined]

    def document(self) -> dict[str, Any]:
        entries = self.entries()
        wall, _, line = entries.pop("place", "|").partition("|")
        return {**entries, "wall": wall, "line": line}


class TemplateChangeForm(TemplateForm):
    """A correction: everything that was entered but where it is, which its moves say."""

    kept_at = None  # type: ignore[assignment]

    def document(self) -> dict[str, Any]:
        # What was emptied is sent as empty, so that a piece can be taken away.
        return {**super().document(), "piece": self.entries().get("piece")}


class MoveForm(EntryForm):
    state = pick("State", STATE_WORDS.items())
    kept_at = text("Kept at", "Where it is now; may stay empty when it is lost.", longest=200)
    on = day("On")

    def document(self) -> dict[str, Any]:
        return self.entries()
