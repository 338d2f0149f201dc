"""Another way to build the same walls: layers and boards, finish levels, profiles of trim, and the job built so."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from catalog.core.reading import Complaint, DocumentError, Reader
from catalog.core.specs import Material
from jobs.core.build import FORMS, POSITIONS, FaceBuild, Layer, Position, TrimForm, TrimRun, WallSpec
from jobs.core.curve import FACES, Face
from jobs.core.findings import Override
from quoting.core.job_file import JobFile

MOST_LAYERS = 8
"""As many as a wall's own document takes on a face."""

MOST_VARIANTS = 3
MOST_CHANGES = 200
LONGEST_NAME = 60


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


@dataclass(frozen=True)
class Rebuilt:
    """The job built another way. walls: keys of the walls that differ. left_behind: decisions not taken along,
    for they were taken about what is changed."""

    read: JobFile
    walls: tuple[str, ...]
    left_behind: tuple[Override, ...]


def read_variants(reader: Reader) -> tuple[Variant, ...]:
    """Read `variants` of a document.

    reader: holds `variants`, 1 to 3 of them, each with its own `name` and `faces` or `trims`. Returns them in order;
    raises DocumentError naming each entry that is wrong, one that changes nothing included.

    >>> entry = {"name": "Two layers", "faces": [{"layers": 2}]}
    >>> read_variants(Reader({"variants": [entry]}))[0].faces[0].layers
    2
    """
    found = reader.items("variants", _variant, most=MOST_VARIANTS)
    if not found:
        raise reader.error("variants", f"name 1 to {MOST_VARIANTS} ways to build it")
    names = [one.name for one in found]
    doubled = [place for place, name in enumerate(names) if name in names[:place]]
    if doubled:
        raise DocumentError(
            Complaint(reader.where(f"variants[{place}].name"), f'"{names[place]}" stands twice; each needs its own')
            for place in doubled
        )
    return found


def _variant(reader: Reader) -> Variant:
    name = reader.text("name", longest=LONGEST_NAME)
    faces = reader.items("faces", _face_change, most=MOST_CHANGES)
    trims = reader.items("trims", _trim_change, most=MOST_CHANGES)
    reader.finish()
    if not faces and not trims:
        raise reader.error("", "changes nothing; say what is to be built another way")
    return Variant(name, faces, trims)


def _face_change(reader: Reader) -> FaceChange:
    change = FaceChange(
        reader.optional_text("wall"),
        reader.optional_choice("face", FACES),
        reader.optional_whole("layers", 1, MOST_LAYERS),
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
            {"wall": one.wall, "face": one.face, "layers": one.layers, "board": one.board, "level": one.level}
            for one in variant.faces
        ],
        "trims": [
            {
                "wall": one.wall,
                "face": one.face,
                "position": one.position,
                "material": one.material,
                "form": one.form,
            }
            for one in variant.trims
        ],
    }


def rebuild(read: JobFile, variant: Variant, path: str = "") -> Rebuilt:
    """The job with its walls built another way.

    read: the job as it stands. variant: the changes. path: of the variant in its document, for complaints.
    Returns the job built so; pricing, dates and measurements are as they were. Raises DocumentError for a wall the
    job does not have, a material that is no such thing, and a change that finds nothing to change.
    Source: own rule; a decision goes with what it was taken about (a bend, a quantity), so it is left behind.

    >>> from decimal import Decimal
    >>> from catalog.core.book import Book
    >>> from catalog.core.specs import Firm
    >>> from catalog.core.standards import starter_standards
    >>> from jobs.core.job import Client, JobSpec
    >>> from jobs.core.survey import HeightProfile, StraightPiece
    >>> board = Material("GB", "Gypsum board", "board", "stocked", "sqft", "sheet", Decimal(0))
    >>> wall = WallSpec("w", "Wall", (StraightPiece(1000.0),), HeightProfile(((0.0, 2400.0),)), "centre", "T", "S",
    ...     FaceBuild((Layer("GB"),)), FaceBuild((), level=0))
    >>> book = Book(Firm("F", "Etc/UTC", "EUR", "metric", 3, 5), starter_standards(), {}, {"GB": board})
    >>> job = JobFile(book, JobSpec("J", "Job", Client("C"), walls=(wall,)))
    >>> len(rebuild(job, Variant("Two", (FaceChange(layers=2),))).read.job.walls[0].left.layers)
    2
    """
    walls = {wall.key: wall for wall in read.job.walls}
    complaints: list[Complaint] = []
    where = f"{path}." if path else ""
    for place, change in enumerate(variant.faces):
        try:
            _change_faces(walls, change, read.book.materials)
        except _Refused as refused:
            complaints.append(Complaint(f"{where}faces[{place}].{refused.entry}", refused.reason))
    for place, swap in enumerate(variant.trims):
        try:
            _change_trims(walls, swap, read.book.materials)
        except _Refused as refused:
            complaints.append(Complaint(f"{where}trims[{place}].{refused.entry}", refused.reason))
    if complaints:
        raise DocumentError(complaints)
    touched = [prefix for wall in read.job.walls for prefix in _touched(wall, walls[wall.key])]
    left = [one for wall in read.job.walls for one in wall.overrides if _is_about(one, touched)]
    left += [one for one in read.job.overrides if _is_about(one, touched)]
    kept = tuple(
        replace(wall, overrides=tuple(one for one in wall.overrides if not _is_about(one, touched)))
        for wall in walls.values()
    )
    job = replace(
        read.job, walls=kept, overrides=tuple(one for one in read.job.overrides if not _is_about(one, touched))
    )
    changed = tuple(old.key for old, new in zip(read.job.walls, kept, strict=True) if old != new)
    return Rebuilt(replace(read, job=job), changed, tuple(left))


class _Refused(Exception):
    def __init__(self, entry: str, reason: str) -> None:
        super().__init__(reason)
        self.entry, self.reason = entry, reason


def _of_kind(materials: Mapping[str, Material], code: str | None, kind: str, entry: str, word: str) -> None:
    if code is not None and (code not in materials or materials[code].kind != kind):
        raise _Refused(entry, f'"{code}" is no {word} of the catalog; choose one that is')


def _walls_meant(walls: Mapping[str, WallSpec], key: str | None) -> list[str]:
    if key is not None and key not in walls:
        raise _Refused("wall", f'"{key}" is no wall of this job; it has {", ".join(walls) or "none"}')
    return list(walls) if key is None else [key]


def _change_faces(walls: dict[str, WallSpec], change: FaceChange, materials: Mapping[str, Material]) -> None:
    _of_kind(materials, change.board, "board", "board", "board")
    meant = [
        (key, face)
        for key in _walls_meant(walls, change.wall)
        for face in ((change.face,) if change.face else FACES)
        if walls[key].face(face).layers
    ]
    if not meant:
        raise _Refused("face", "no face meant here carries board; give the wall its layers first")
    for key, face in meant:
        built = _face_built(walls[key].face(face), change)
        walls[key] = replace(walls[key], left=built) if face == "left" else replace(walls[key], right=built)


def _face_built(build: FaceBuild, change: FaceChange) -> FaceBuild:
    count = change.layers or len(build.layers)
    layers = (*build.layers, *(build.layers[-1],) * count)[:count]
    if change.board is not None:
        layers = tuple(_of_board(layer, change.board) for layer in layers)
    return replace(build, layers=layers, level=build.level if change.level is None else change.level)


def _of_board(layer: Layer, board: str) -> Layer:
    return replace(layer, board=board)


def _change_trims(walls: dict[str, WallSpec], change: TrimChange, materials: Mapping[str, Material]) -> None:
    _of_kind(materials, change.material, "trim", "material", "trim")
    keys = _walls_meant(walls, change.wall)
    if not any(_is_meant(run, change) for key in keys for run in walls[key].trims):
        raise _Refused("position", "no run of trim is meant here; choose a position the walls have")
    for key in keys:
        swapped = (
            replace(run, material=change.material or run.material, form=change.form or run.form)
            if _is_meant(run, change)
            else run
            for run in walls[key].trims
        )
        walls[key] = replace(walls[key], trims=tuple(swapped))


def _is_meant(run: TrimRun, change: TrimChange) -> bool:
    return change.face in (None, run.face) and change.position in (None, run.position)


def _touched(old: WallSpec, new: WallSpec) -> Iterable[str]:
    """Beginnings of the keys of checks and lines that are about what is changed."""
    for face in FACES:
        before, after = old.face(face), new.face(face)
        if before.layers != after.layers:
            yield f"{old.key}/{face}/"
        elif before.level != after.level:
            # Boards and their bends are as they were; compound, tape and bead of the face are not.
            yield from (f"{old.key}/{face}/{kind}" for kind in ("compound", "tape", "bead", "bead_fastener"))
    for number, (was, now) in enumerate(zip(old.trims, new.trims, strict=True), 1):
        if was != now or old.face(was.face).layers != new.face(now.face).layers:
            yield f"{old.key}/trim-{number}"


def _is_about(decision: Override, touched: Iterable[str]) -> bool:
    return any(
        decision.key == start.rstrip("/") or decision.key.startswith(f"{start.rstrip('/')}/") for start in touched
    )
