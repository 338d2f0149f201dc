"""How a wall is built, as forms: openings, faces and their layers, studs and ends, trim, materials of its own."""

from typing import Any, ClassVar

from catalog.core.ground.declared import Document
from catalog.core.ground.units import System
from catalog.core.materials.specs import ROLES
from jobs.core.measure.survey import Opening, OpeningCasing
from jobs.core.measure.wall_spec import FaceBuild, Layer, TrimRun, WallEnds, WallSpec
from jobs.walls.pages.form.part_form import ANYTHING, PartForm, Typed
from jobs.walls.pages.form.words import (
    DIRECTIONS,
    ENDS,
    FACES,
    FORM_OPTIONS,
    FRAMES,
    LEVEL_OPTIONS,
    LINES,
    POSITION_OPTIONS,
    ROLE_OPTIONS,
    SAID,
)
from quoting.platform.pages.declared_fields import form_of, picked
from quoting.platform.pages.entry_form import pick

CASING = ("legs", "head", "reveal", "faces")


class OpeningForm(form_of(Opening, "name", "centre_at", "width", "height", "sill", "arch_rise", base=PartForm)):
    starts_as = {"frame": "flat", "head": "level", "casing_faces": "both"}
    needed = ("name", "centre_at", "width", "height")
    marked = ("centre_at", "width", "height", "sill", "arch_rise")
    materials = {"casing_legs": "trim", "casing_head": "trim"}
    wide = ("measured_on", "casing_legs", "casing_head")
    when = {"arch_rise": ("head", ("arch",))} | {
        f"casing_{name}": ("casing_legs", (ANYTHING,)) for name in ("head", "reveal", "faces")
    }
    stands_at = {"casing": "casing_legs"}

    frame = picked(Opening, "frame", FRAMES)
    measured_on = picked(Opening, "measured_on", {"": "as for the wall"} | LINES)
    head = pick("Head", (("level", "level"), ("arch", "arched, in a straight piece")))
    casing_legs = picked(OpeningCasing, "legs", {"": "no casing"})
    casing_head = picked(OpeningCasing, "head", {"": "of the same profile"})
    casing_faces = picked(OpeningCasing, "faces", FACES)
    field_order = ("name", "centre_at", "width", "height", "sill", "frame", "measured_on", "head", "arch_rise")

    def words(self) -> str:
        size = " × ".join(filter(None, (self.typed("width"), self.typed("height"))))
        return ", ".join(filter(None, (self.typed("name"), size)))

    def document(self) -> Document:
        entered = self.entered()
        casing = {name: entered.pop(f"casing_{name}", "") for name in CASING}
        entered.pop("head", None)
        filled = {name: value for name, value in casing.items() if value}
        return {**entered, **({"casing": filled} if casing["legs"] else {})}

    @classmethod
    def texts_of(cls, written: Document, system: System) -> Typed:
        casing = {f"casing_{name}": value for name, value in (written["casing"] or {"faces": "both"}).items()}
        head = {"head": "level" if written["arch_rise"] is None else "arch"}
        return super().texts_of({**written, **casing, **head}, system)


# The reveal is a length beside three choices.
OpeningForm.base_fields["casing_reveal"] = form_of(OpeningCasing, "reveal").base_fields["reveal"]


class FaceForm(form_of(FaceBuild, "painted", base=PartForm)):
    starts_as = {"level": "4", "painted": "yes"}
    field_order = ("level", "painted")

    level = pick("Finish level", LEVEL_OPTIONS)

    def document(self) -> Document:
        level = self.typed("level")
        return {
            "level": int(level) if level in set("012345") else level or None,
            "painted": bool(self.typed("painted")),
        }

    @classmethod
    def texts_of(cls, written: Document, system: System) -> Typed:
        return {"level": str(written["level"]), "painted": "yes" if written["painted"] else ""}

    def entry_at(self, path: str) -> str:
        return super().entry_at(path) or "level"


class LayerForm(PartForm):
    starts_as = {"direction": "lengthwise", "moisture": "dry"}
    materials = {"board": "board"}
    needed = ("board",)
    wide = ("board",)

    board = picked(Layer, "board", {})
    direction = picked(Layer, "direction", DIRECTIONS)
    moisture = picked(Layer, "moisture", {"dry": "dry", "damp": "damp"})


class StudsForm(form_of(WallSpec, "stud_depth", "stud_spacing", "insulated", base=PartForm)):
    materials = {"track": "track", "stud": "stud"}
    wide = ("track", "stud")
    field_order = ("track", "stud")

    track = picked(WallSpec, "track", {})
    stud = picked(WallSpec, "stud", {})

    def document(self) -> Document:
        return self.entered() | {"insulated": bool(self.typed("insulated"))}

    @classmethod
    def texts_of(cls, written: Document, system: System) -> Typed:
        return super().texts_of(written, system) | {"insulated": "yes" if written["insulated"] else ""}


class EndsForm(form_of(WallEnds, "studs", base=PartForm)):
    starts_as = {"start": "free", "end": "free", "studs": "1"}
    field_order = ("start", "end", "studs")
    stands_at = {"": "start"}

    start = picked(WallEnds, "start", ENDS)
    end = picked(WallEnds, "end", ENDS)


class TrimForm(
    form_of(TrimRun, "name", "foot", "returns", "template", "need_by", "application", "needs_backing", base=PartForm)
):
    starts_as = {"face": "left", "position": "base", "form": "stock"}
    needed = ("name", "face", "position", "material", "form")
    materials = {"material": "trim"}
    wide = ("material", "application")
    plain = ("name", "application", "template")
    field_order = (
        *("name", "face", "position", "material", "form", "bend", "grade", "foot", "returns", "splices_allowed"),
        *("template", "need_by", "application", "needs_backing"),
    )

    face = picked(TrimRun, "face", {"left": "left", "right": "right"})
    position = picked(TrimRun, "position", dict(POSITION_OPTIONS))
    material = picked(TrimRun, "material", {})
    form = picked(TrimRun, "form", dict(FORM_OPTIONS))
    bend = picked(TrimRun, "bend", {"": "as its place has it", "easy": "flat against the wall", "hard": "on edge"})
    grade = picked(TrimRun, "grade", {"": "not said", "paint": "paint", "stain": "stain"})
    splices_allowed = picked(TrimRun, "splices_allowed", dict(SAID))

    def document(self) -> Document:
        said = self.typed("splices_allowed")
        return {
            **self.entered(),
            "splices_allowed": {"yes": True, "no": False, "": None}.get(said, said),
            "needs_backing": bool(self.typed("needs_backing")),
        }

    @classmethod
    def texts_of(cls, written: Document, system: System) -> Typed:
        return super().texts_of(written, system) | {"needs_backing": "yes" if written["needs_backing"] else ""}


class KitForm(PartForm):
    wide = ("role", "instead")
    ABSENT: ClassVar = "choose one, or remove the row"

    role = pick("Used as", ROLE_OPTIONS)
    instead = pick("Material", ())

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        instead: Any = self.fields["instead"]
        among = [(label, list(self.offered[kind])) for _, (kind, label) in ROLES.items()]
        instead.choices = [("", "choose one"), *among]
        instead.widget.attrs["data-groups"] = "role"
