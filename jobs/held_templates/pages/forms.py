"""What is entered of a template: short enough to be typed on a phone beside the wall."""

from collections.abc import Iterable
from typing import Any

from django.http import QueryDict

from jobs.core.measure.wall_spec import WallSpec
from jobs.core.takeoff.held_templates import HeldTemplate, TemplateMove
from quoting.platform.pages.declared_fields import form_field, form_of
from quoting.platform.pages.entry_form import pick


def places_of(walls: Iterable[WallSpec]) -> list[tuple[str, str]]:
    """A wall with one of its runs of trim, or the wall alone. A key holds no "|"."""
    choices = []
    for wall in walls:
        runs = sorted(wall.trims, key=lambda run: run.form != "template")
        choices += [(f"{wall.key}|{run.name}", f"{wall.name}: {run.name}") for run in runs]
        choices.append((f"{wall.key}|", f"{wall.name}: no run of trim in particular"))
    return choices


class TemplateForm(form_of(HeldTemplate, "name", "shape", "piece", "traced_by", "traced_on")):
    place = pick("Traced for", ())
    kept_at = form_field(TemplateMove, "kept_at")

    field_order = ("name", "place", "shape", "piece", "kept_at")
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


MoveForm = form_of(TemplateMove, "state", "kept_at", "on")
