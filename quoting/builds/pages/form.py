"""Another way to build a job, as a form: read into a variant of a document, complaints put at their fields."""

import re
from typing import Any

from django.http import QueryDict

from catalog.models import Material
from jobs.jobs.models import Job
from jobs.walls.pages.form.words import FORM_OPTIONS, LEVEL_OPTIONS, POSITION_OPTIONS
from quoting.core.prices.variants import MAX_NAME_LENGTH
from quoting.platform.pages.entry_form import EntryForm, pick, text
from quoting.platform.pages.entry_rows import EntryRows

Document = dict[str, Any]
Options = list[tuple[str, str]]
AS_IT_IS = "as it is"
# More is built so seldom that it is put in on the wall's own page.
LAYERS = [(str(count), str(count)) for count in range(1, 5)]
ORDINALS = ("First", "Second", "Third")
TRIM = "trim"


def builds_form(job: Job, data: QueryDict | None, concerned: QueryDict) -> EntryRows:
    """concerned: the wall, and its side, from which somebody came; they are chosen, and no other side is asked."""
    by_kind: dict[str, Options] = {"board": [], TRIM: []}
    rows = Material.objects.filter(active=True, kind__in=by_kind).order_by("name", "code")
    for code, name, kind in rows.values_list("code", "name", "kind"):
        by_kind[kind].append((code, f"{name} ({code})"))
    offered = {
        "walls": list(job.walls.values_list("key", "name")),
        "boards": by_kind["board"],
        "profiles": by_kind[TRIM],
    }
    side, first = concerned.get("face", ""), {"wall": concerned.get("wall", "")}
    sides = (side,) if side in ("left", "right") else ("left", "right")
    return EntryRows(
        BuildForm,
        "variants",
        data,
        [first],
        spare=0,
        more="more" in concerned,
        options={**offered, "sides": sides},
        label="Build",
    )


class BuildForm(EntryForm):
    name = text("Called", longest=MAX_NAME_LENGTH)

    def __init__(
        self,
        *args: Any,
        walls: Options,
        boards: Options,
        profiles: Options,
        sides: tuple[str, ...],
        **options: Any,
    ) -> None:
        super().__init__(*args, **options)
        self.sides = sides
        self.fields["wall"] = pick("Of", walls, nothing="every wall")
        for side in sides:
            label = f"{side.capitalize()} face"
            self.fields[f"{side}_layers"] = pick(f"{label}, layers", LAYERS, nothing=AS_IT_IS)
            self.fields[f"{side}_board"] = pick(f"{label}, board", boards, nothing=AS_IT_IS)
            self.fields[f"{side}_level"] = pick(f"{label}, finish level", LEVEL_OPTIONS, nothing=AS_IT_IS)
        self.fields["trim_position"] = pick("Trim", POSITION_OPTIONS, nothing="all of it")
        self.fields["trim_material"] = pick("Profile", profiles, nothing=AS_IT_IS)
        self.fields["trim_form"] = pick("Supplied as", FORM_OPTIONS, nothing=AS_IT_IS)
        for field in self.fields.values():
            field.required = False

    def is_filled(self) -> bool:
        return bool(super().entries().keys() - {"wall"})

    @property
    def title(self) -> str:
        return self["name"].value() or f"{ORDINALS[int(str(self.prefix).rpartition('-')[2]) % 3]} build"

    @property
    def says(self) -> str:
        """What of it is another way, in words."""
        shown = ((field.label, dict(field.field.choices)[field.value()]) for field in self if self._is_chosen(field))
        return ", ".join(f"{label.lower()}: {words}" for label, words in shown)

    @staticmethod
    def _is_chosen(field: Any) -> bool:
        return bool(field.value()) and field.value() in dict(getattr(field.field, "choices", ()))

    def entries(self) -> Document:
        """A variant of the document; of what is as it is nothing."""
        typed = super().entries()
        wall = {"wall": typed["wall"]} if "wall" in typed else {}
        changed = {part: self._of(part, typed) for part in (*self.sides, TRIM)}
        faces = [{**wall, "face": side, **changed[side]} for side in self.sides if changed[side]]
        trims = [{**wall, **changed[TRIM]}] if changed[TRIM] else []
        return {"name": self.title, "faces": faces, "trims": trims}

    @staticmethod
    def _of(part: str, typed: Document) -> Document:
        return {name.removeprefix(f"{part}_"): typed[name] for name in typed if name.startswith(f"{part}_")}

    def _field_at(self, path: str) -> str | None:
        """path: within the variant, such as faces[0].board."""
        match = re.fullmatch(r"(faces|trims)\[(\d+)\]\.?(\w*)", path)
        if match is None:
            return super()._field_at(path)
        part = TRIM if match[1] == "trims" else self.entries()["faces"][int(match[2])]["face"]
        among = (match[3], f"{part}_{match[3]}", f"{part}_layers", f"{part}_material")
        return next((name for name in among if name in self.fields), None)
