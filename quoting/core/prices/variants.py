"""Other ways to build the same walls, as a document says them: layers and boards, finish levels, profiles of trim."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader
from catalog.core.materials.profiles import FORMS, TrimForm
from jobs.core.measure.curve import FACES, Face
from jobs.core.measure.wall_spec import POSITIONS, Position

MAX_LAYERS = 8
"""As many as a wall's own document takes on a face."""

MAX_VARIANTS = 3
MAX_CHANGES = 200
MAX_NAME_LENGTH = 60


@dataclass(frozen=True)
class FaceChange:
    """What is changed of a face. wall: its key, None for every wall. face: None for both that carry board.

    layers: how many, 1 to 8; fewer keeps those against the framing, more repeats the outermost. board: code of the
    board every layer is of. level: finish level, 0 to 5 (GA-214). Each None to leave it as it is.
    """

    wall: str | None = None
    face: Face | None = None
    layers: int | None = None
    board: str | None = None
    level: int | None = None


@dataclass(frozen=True)
class TrimChange:
    """What is changed of runs of trim. wall: its key, None for every wall. face, position: None for all.

    material: code of the profile. form: how it is to be had. Each None to leave it as it is.
    """

    wall: str | None = None
    face: Face | None = None
    position: Position | None = None
    material: str | None = None
    form: TrimForm | None = None


@dataclass(frozen=True)
class Variant:
    """A way to build the job: a name, and the changes that make it, in the order they are applied."""

    name: str
    faces: tuple[FaceChange, ...] = ()
    trims: tuple[TrimChange, ...] = ()


def read_variants(reader: Reader) -> tuple[Variant, ...]:
    """Read `variants` of a document.

    reader: holds `variants`, 1 to 3 of them, each with its own `name` and `faces` or `trims`. Returns them in order;
    raises DocumentError naming each entry that is wrong, one that changes nothing included.

    >>> entry = {"name": "Two layers", "faces": [{"layers": 2}]}
    >>> read_variants(Reader({"variants": [entry]}))[0].faces[0].layers
    2
    """
    variants = reader.items("variants", _variant, most=MAX_VARIANTS)
    if not variants:
        raise reader.error("variants", f"name 1 to {MAX_VARIANTS} ways to build it")
    names = [variant.name for variant in variants]
    doubled = [place for place, name in enumerate(names) if name in names[:place]]
    if doubled:
        raise DocumentError(
            DocumentProblem(
                reader.where(f"variants[{place}].name"), f'"{names[place]}" stands twice; each needs its own'
            )
            for place in doubled
        )
    return variants


def _variant(reader: Reader) -> Variant:
    return read_changes(reader, reader.text("name", longest=MAX_NAME_LENGTH))


def read_changes(reader: Reader, name: str) -> Variant:
    """Read what a variant changes.

    reader: holds `faces` or `trims` and nothing else that is unread. name: what the variant is called. Returns the
    variant; raises DocumentError naming each entry that is wrong, and one that changes nothing.

    >>> read_changes(Reader({"faces": [{"layers": 2}]}), "Two layers").faces[0].layers
    2
    """
    faces = reader.items("faces", _face_change, most=MAX_CHANGES)
    trims = reader.items("trims", _trim_change, most=MAX_CHANGES)
    reader.finish()
    if not faces and not trims:
        raise reader.error("", "changes nothing; say what is to be built another way")
    return Variant(name, faces, trims)


def _face_change(reader: Reader) -> FaceChange:
    change = FaceChange(
        reader.optional_text("wall"),
        reader.optional_choice("face", FACES),
        reader.optional_whole("layers", 1, MAX_LAYERS),
        reader.optional_text("board"),
        reader.optional_whole("level", 0, 5),
    )
    reader.finish()
    if (change.layers, change.board, change.level) == (None, None, None):
        raise reader.error("", "changes nothing; say layers, board or level")
    return change


def _trim_change(reader: Reader) -> TrimChange:
    change = TrimChange(
        reader.optional_text("wall"),
        reader.optional_choice("face", FACES),
        reader.optional_choice("position", POSITIONS),
        reader.optional_text("material"),
        reader.optional_choice("form", FORMS),
    )
    reader.finish()
    if (change.material, change.form) == (None, None):
        raise reader.error("", "changes nothing; say material or form")
    return change


def write_variant(variant: Variant) -> dict[str, Any]:
    """A variant as the entry of a document that `read_variants` reads back the same.

    >>> write_variant(Variant("Two", (FaceChange(layers=2),)))["faces"][0]["layers"]
    2
    """
    return {
        "name": variant.name,
        "faces": [
            {"wall": face.wall, "face": face.face, "layers": face.layers, "board": face.board, "level": face.level}
            for face in variant.faces
        ],
        "trims": [
            {
                "wall": trim.wall,
                "face": trim.face,
                "position": trim.position,
                "material": trim.material,
                "form": trim.form,
            }
            for trim in variant.trims
        ],
    }
