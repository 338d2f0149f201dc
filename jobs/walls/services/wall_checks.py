"""What is wrong with a wall before it is stored: as it would be kept, and against the catalog."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator

from catalog.core.ground.document_reader import DocumentProblem
from catalog.core.materials.specs import ROLES
from catalog.services.material_references import MaterialRef
from jobs.core.measure.survey import ArcPiece, HeightProfile, Survey, SurveyError
from jobs.core.measure.wall_spec import WallSpec
from jobs.walls.models import HeightStation, Opening, RoomTie, WallPiece
from jobs.walls.services.site_rows import rows_taken
from jobs.walls.services.wall_rows import height_figures, opening_figures, piece_figures, room_figures


def names_in(spec: WallSpec, path: str) -> Iterator[MaterialRef]:
    """Every material the wall names, with its path in the document."""
    yield MaterialRef(f"{path}track", spec.track, "track")
    yield MaterialRef(f"{path}stud", spec.stud, "stud")
    for face, build in (("left", spec.left), ("right", spec.right)):
        for place, layer in enumerate(build.layers):
            yield MaterialRef(f"{path}{face}.layers[{place}].board", layer.board, "board")
    for place, opening in enumerate(spec.openings):
        if opening.casing is not None:
            yield MaterialRef(f"{path}openings[{place}].casing.legs", opening.casing.legs, "trim")
            if opening.casing.head is not None:
                yield MaterialRef(f"{path}openings[{place}].casing.head", opening.casing.head, "trim")
    for place, trim in enumerate(spec.trims):
        yield MaterialRef(f"{path}trims[{place}].material", trim.material, "trim")
    for role, codes in spec.kit.items():
        for code in codes:
            yield MaterialRef(f"{path}kit.{role}", code, ROLES[role][0])


def complaints_about_figures(spec: WallSpec, path: str) -> list[DocumentProblem]:
    """The wall is measured anew in the figures that will be kept: rounding may break what held before."""
    complaints: list[DocumentProblem] = []

    def attempt(where: str, check: Callable[[], object]) -> None:
        try:
            check()
        except SurveyError as error:
            field = error.field if error.field.startswith(where) else f"{where}.{error.field}".strip(".")
            complaints.append(DocumentProblem(f"{path}{field}", error.reason))

    for place, piece in enumerate(spec.pieces):
        attempt(f"pieces[{place}]", lambda place=place, piece=piece: _solve(place, piece))
    for place, opening in enumerate(spec.openings):
        attempt(
            f"openings[{place}]",
            lambda place=place, entry=opening: Opening(**opening_figures(place, entry)).to_core(),
        )
    for field, row in rows_taken(spec.taken):
        attempt(field, row.to_core)
    for figures in room_figures(spec.room):
        attempt("room", RoomTie(**figures).to_core)
    if not complaints:
        attempt("", lambda: _survey(spec))
    if spec.stud_depth_mm is not None and not 1 <= spec.stud_depth_mm <= 1000:
        depth = f"{spec.stud_depth_mm:g} mm was given"
        reason = f"must be from 1 mm to 1000 mm, or be left out for the stud's own; {depth}"
        complaints.append(DocumentProblem(f"{path}stud_depth", reason))
    complaints.extend(doubles([override.key for override in spec.overrides], f"{path}overrides"))
    return complaints


def _solve(place: int, piece: object) -> None:
    stored = WallPiece(**piece_figures(place, piece)).to_core()  # type: ignore[arg-type]
    if isinstance(stored, ArcPiece):
        stored.given.solve()


def _survey(spec: WallSpec) -> Survey:
    heights = HeightProfile(tuple(HeightStation(**figure).to_core() for figure in height_figures(spec)))
    pieces = tuple(WallPiece(**piece_figures(place, piece)).to_core() for place, piece in enumerate(spec.pieces))
    # The depth is the catalog's and is not looked at here; any will do to measure the rest.
    return Survey(pieces, heights, spec.measured_on, 100.0, 0.0, 0.0)


def doubles(keys: Iterable[str], path: str) -> Iterator[DocumentProblem]:
    for key, count in Counter(keys).items():
        if count > 1:
            yield DocumentProblem(path, f'"{key}" is given twice')
