"""The job built another way: its walls with the changes of a variant made to them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.core.materials.profiles import FORMS, TrimForm
from catalog.core.materials.specs import Material, Supply
from jobs.core.measure.curve import FACES
from jobs.core.measure.findings import Override
from jobs.core.measure.wall_spec import FaceBuild, Layer, TrimRun, WallSpec
from jobs.core.takeoff.decided_about import is_about, touched
from quoting.core.prices.variants import FaceChange, TrimChange, Variant
from quoting.core.quotes.job_file import JobFile


@dataclass(frozen=True)
class Rebuilt:
    """The job built another way. walls: keys of the walls that differ. left_behind: decisions not taken along,
    for they were taken about what is changed."""

    read: JobFile
    walls: tuple[str, ...]
    left_behind: tuple[Override, ...]


def rebuild(read: JobFile, variant: Variant, path: str = "") -> Rebuilt:
    """The job with its walls built another way.

    read: the job as it stands. variant: the changes. path: of the variant in its document, for complaints.
    Returns the job built so; pricing, dates and measurements are as they were. Raises DocumentError for a wall the
    job does not have, a material that is no such thing, and a change that finds nothing to change.
    Source: own rule; a decision goes with what it was taken about (a bend, a quantity), so it is left behind.

    >>> from decimal import Decimal
    >>> from catalog.core.materials.catalog_data import Catalog
    >>> from catalog.core.materials.specs import Firm
    >>> from catalog.core.materials.standards import starter_standards
    >>> from jobs.core.schedule.job_spec import Client, JobSpec
    >>> from jobs.core.measure.survey import HeightProfile, StraightPiece
    >>> board = Material("GB", "Gypsum board", "board", "stocked", "sqft", "sheet", Decimal(0))
    >>> wall = WallSpec("w", "Wall", "centre", (StraightPiece(1000.0),), HeightProfile(((0.0, 2400.0),)), "T", "S",
    ...     FaceBuild((Layer("GB"),)), FaceBuild((), level=0))
    >>> book = Catalog(Firm("F", "Etc/UTC", "EUR", "metric", 3, 5), starter_standards(), {}, {"GB": board})
    >>> job = JobFile(book, JobSpec("J", "Job", Client("C"), walls=(wall,)))
    >>> len(rebuild(job, Variant("Two", (FaceChange(layers=2),))).read.job.walls[0].left.layers)
    2
    """
    walls = {wall.key: wall for wall in read.job.walls}
    complaints: list[DocumentProblem] = []
    where = f"{path}." if path else ""
    for place, change in enumerate(variant.faces):
        try:
            _change_faces(walls, change, read.book.materials)
        except _Refused as refused:
            complaints.append(DocumentProblem(f"{where}faces[{place}].{refused.entry}", refused.reason))
    for place, swap in enumerate(variant.trims):
        try:
            _change_trims(walls, swap, read.book.materials)
        except _Refused as refused:
            complaints.append(DocumentProblem(f"{where}trims[{place}].{refused.entry}", refused.reason))
    if complaints:
        raise DocumentError(complaints)
    return _rebuilt(read, walls)


def swapped(read: JobFile, material: str, instead: str) -> Rebuilt:
    """The job with one material in the place of another wherever its walls name it.

    read: the job as it stands. material, instead: codes of the catalog, of one kind. Returns the job built so.
    A profile is had as its card says, else as it is supplied. Raises DocumentError at "instead" for a material that
    cannot take the other's place, and at "material" for one that no wall names. Source: own rule, as `rebuild`.

    >>> from decimal import Decimal
    >>> from catalog.core.materials.catalog_data import Catalog
    >>> from catalog.core.materials.specs import Firm
    >>> from catalog.core.materials.standards import starter_standards
    >>> from jobs.core.schedule.job_spec import Client, JobSpec
    >>> from jobs.core.measure.survey import HeightProfile, StraightPiece
    >>> boards = {code: Material(code, code, "board", "stocked", "sqft", "sheet", Decimal(0)) for code in ("GB", "HB")}
    >>> wall = WallSpec("w", "Wall", "centre", (StraightPiece(1000.0),), HeightProfile(((0.0, 2400.0),)), "T", "S",
    ...     FaceBuild((Layer("GB"),)), FaceBuild((), level=0))
    >>> book = Catalog(Firm("F", "Etc/UTC", "EUR", "metric", 3, 5), starter_standards(), {}, boards)
    >>> job = JobFile(book, JobSpec("J", "Job", Client("C"), walls=(wall,)))
    >>> swapped(job, "GB", "HB").read.job.walls[0].left.layers[0].board
    'HB'
    """
    known = read.book.materials
    if instead not in known:
        raise DocumentError.at("instead", f'"{instead}" is not a material in the catalog; choose one that is')
    if instead == material or (material in known and known[material].kind != known[instead].kind):
        kind = known[material].kind if material in known else "other material"
        raise DocumentError.at("instead", f'"{instead}" cannot take its place; choose another {kind}')
    walls = {wall.key: _with_swap(wall, material, known[instead], known.get(material)) for wall in read.job.walls}
    if all(walls[wall.key] == wall for wall in read.job.walls):
        message = (
            f'"{material}" is named by no wall of what was agreed, so nothing takes its place; change the kit instead'
        )
        raise DocumentError.at("material", message)
    return _rebuilt(read, walls)


FORM_OF_SUPPLY: Mapping[Supply, TrimForm] = {
    "stocked": "stock",
    "special_order": "bendable",
    "custom_made": "pre_curved",
}


def _form(run: TrimRun, own: Material | None, instead: Material) -> TrimForm:
    forms = instead.profile.forms if instead.profile else ()
    if run.form in forms or (not forms and own is not None and own.supply == instead.supply):
        return run.form
    return min(forms, key=FORMS.index) if forms else FORM_OF_SUPPLY[instead.supply]


def _with_swap(wall: WallSpec, material: str, instead: Material, own: Material | None) -> WallSpec:
    def other(code: str) -> str:
        return instead.code if code == material else code

    def trim(run: TrimRun) -> TrimRun:
        return run if run.material != material else replace(run, material=instead.code, form=_form(run, own, instead))

    def face(build: FaceBuild) -> FaceBuild:
        return replace(build, layers=tuple(_of_board(layer, other(layer.board)) for layer in build.layers))

    return replace(
        wall,
        track=other(wall.track),
        stud=other(wall.stud),
        left=face(wall.left),
        right=face(wall.right),
        trims=tuple(map(trim, wall.trims)),
        kit={role: tuple(map(other, codes)) for role, codes in wall.kit.items()},
    )


def _rebuilt(read: JobFile, walls: Mapping[str, WallSpec]) -> Rebuilt:
    touched_keys = [prefix for wall in read.job.walls for prefix in touched(wall, walls[wall.key])]
    left = [override for wall in read.job.walls for override in wall.overrides if is_about(override, touched_keys)]
    left += [override for override in read.job.overrides if is_about(override, touched_keys)]
    stored = tuple(
        replace(wall, overrides=tuple(override for override in wall.overrides if not is_about(override, touched_keys)))
        for wall in walls.values()
    )
    job = replace(
        read.job,
        walls=stored,
        overrides=tuple(override for override in read.job.overrides if not is_about(override, touched_keys)),
    )
    changed = tuple(old.key for old, new in zip(read.job.walls, stored, strict=True) if old != new)
    return Rebuilt(replace(read, job=job), changed, tuple(left))


class _Refused(Exception):
    def __init__(self, entry: str, reason: str) -> None:
        super().__init__(reason)
        self.entry, self.reason = entry, reason


def _of_kind(materials: Mapping[str, Material], code: str | None, kind: str, entry: str, word: str) -> None:
    if code is not None and (code not in materials or materials[code].kind != kind):
        raise _Refused(entry, f'"{code}" is not a {word} in the catalog; choose one that is')


def _walls_meant(walls: Mapping[str, WallSpec], key: str | None) -> list[str]:
    if key is not None and key not in walls:
        raise _Refused("wall", f'"{key}" is not a wall of this job; it has {", ".join(walls) or "none"}')
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
