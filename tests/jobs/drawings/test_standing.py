import math
import os
import random
import re

import pytest

from catalog.drawings.svg import DrawingInputError
from jobs.core.measure.curve import curve_of
from jobs.core.measure.survey import ArcPiece, RadiusAngle, StraightPiece
from jobs.drawings.faces.face_view import TrimBand
from jobs.drawings.plan.plan_view import level_turn
from jobs.drawings.solid.hiding import Scene
from jobs.drawings.solid.sides import RISE
from jobs.drawings.solid.stood import Stood, stood
from jobs.drawings.solid.visible import SeenEdge, seen_edges
from jobs.drawings.standing import Cap, StandingWall, seen_from, seen_words, standing_svg, thumbnail_svg
from jobs.drawings.standing_together import standing_together
from tests.jobs.drawings.generated_walls import generated_wall
from tests.jobs.drawings.reading import SVG, parsed, texts
from tests.jobs.drawings.solid_faces import Faces
from tests.jobs.drawings.walls import INCH, WALLS, boutique, column, dental, library, more_than_half, survey

BASE = TrimBand("Base 5-1/4 in", 5.25 * INCH)
SEEDS = range(200 if os.environ.get("CURVEWRIGHT_FAULT_ROUNDS") else 10)
# Nearer than this to where sight of an edge begins or ends nothing is compared: rays are cast against chords.
BRINK_MM = 10.0
# A ray starts so far ahead of the edge that the chords of its own face are behind it.
AHEAD_MM = 3.0


def wall(curve, cap: Cap | None = None) -> StandingWall:
    return StandingWall(curve, ((BASE,), (BASE,)), cap)


def places_on(seen: SeenEdge, rng: random.Random) -> list[tuple[float, bool]]:
    """Parts of an edge well away from every change, and whether they are drawn."""
    edge = seen.edge
    long = max(math.dist(edge.at(0.0), edge.at(1.0)), 1.0)
    ends = [0.0, 1.0, *(end for part in seen.parts for end in part)]
    parts = [rng.uniform(0.01, 0.99) for _ in range(3)]
    clear = [part for part in parts if min(abs(part - end) for end in ends) * long > BRINK_MM]
    return [(part, any(a < part < b for a, b in seen.parts)) for part in clear if not is_seen_along(edge, part)]


def is_seen_along(edge, part: float) -> bool:
    if not hasattr(edge, "side"):
        return False
    share = edge.span[0] + (edge.span[1] - edge.span[0]) * part
    return abs(edge.side.outward(share)[1]) < 0.2


def sight(faces: Faces, place) -> set[bool]:
    """Whether a ray from the place reaches the eye, and from a hair beside it: an edge has free air on one side."""
    x, y, z = place
    beside = ((0, 0), (0.3, 0), (-0.3, 0), (0, 0.3), (0, -0.3))
    return {not faces.is_hidden((x + dx, y, z + dz), AHEAD_MM) for dx, dz in beside}


def differences(seed: int) -> tuple[int, list[str]]:
    """How many places were compared, and those where the drawing and the rays differ."""
    curve, cap = generated_wall(seed)
    turned: Stood = stood(wall(curve, Cap(*cap) if cap else None), ("right", "left")[seed % 2])
    faces = Faces(curve, level_turn(curve) + (0.0, math.pi)[seed % 2], (0, -1, RISE), cap)
    rng, count, result = random.Random(seed), 0, []
    for seen in seen_edges(turned.scene, turned.edges, 60.0):
        for part, drawn in places_on(seen, rng):
            count += 1
            if not sight(faces, seen.edge.at(part)) & {drawn}:
                result.append(f"wall {seed}, {seen.edge.weight} at {seen.edge.at(part)}: drawn is {drawn}")
    return count, result


@pytest.mark.faults
@pytest.mark.parametrize("seed", SEEDS)
def test_an_edge_is_drawn_where_a_ray_from_it_to_the_eye_meets_no_face(seed):
    count, result = differences(seed)
    assert result == [] and count > 10


def test_the_rays_notice_when_nothing_is_left_out(monkeypatch):
    monkeypatch.setattr(Scene, "is_hidden", lambda self, x, y, z: False)
    assert len(differences(8)[1]) > 4


@pytest.mark.parametrize("name", sorted(WALLS))
def test_every_wall_stands_within_its_paper_and_small(name):
    picture = standing_svg(wall(WALLS[name]()), title=name, width_mm=68.6, max_height_mm=90)
    assert picture.width_mm == 68.6 and picture.height_mm <= 92
    small = thumbnail_svg(wall(WALLS[name]()), title=name)
    assert (small.width_mm, len(small.svg) < 4096) == (31.75, True)


def test_a_width_is_its_measured_chord_and_a_height_the_top():
    # The dental screen: chord 14 ft on the convex framing face, 9 ft high.
    assert texts(standing_svg(wall(dental()), title="Screen").svg) == ["14' 0\"", "9' 0\""]


def test_of_more_than_half_a_circle_the_width_over_all_is_given():
    # Chord 100 in, rise 80 in: R = 100^2 / (8 x 80) + 40 = 55.625 in on the convex framing; board 1/2 in on it.
    wide = 2 * (55.625 + 0.5)
    assert wide == 112.25
    assert "9' 4-1/4\"" in texts(standing_svg(wall(more_than_half()), title="Screen").svg)


def test_both_ends_of_a_rising_top_have_their_height():
    # 96 in at one end, 114 in at the other.
    assert {"8' 0\"", "9' 6\""} <= set(texts(standing_svg(wall(library()), title="Wall").svg))


def test_two_walls_at_one_ratio_compare():
    picture = standing_svg(wall(dental()), title="One", ratio=80)
    assert picture.ratio == 80 and texts(picture.svg)[0] == "14' 0\""
    with pytest.raises(DrawingInputError, match="does not fit"):
        standing_svg(wall(dental()), title="One", ratio=10)


def test_a_wall_is_seen_from_its_concave_side():
    # The dental arc turns left.
    assert seen_from(wall(dental())) == "left" and seen_words(dental(), "left") == "from the concave side"
    assert seen_words(dental(), "right") == "from the convex side"


def test_a_wall_that_turns_both_ways_names_the_side_of_the_walk():
    assert seen_words(boutique(), "right") == "from the right side"


def test_a_closed_column_is_seen_from_outside():
    # It turns left, so that its outside is the right.
    assert seen_from(wall(column())) == "right"


def test_a_wall_that_runs_into_itself_is_shown_in_plan():
    pieces = [ArcPiece(RadiusAngle(1000.0, math.radians(350)), "left"), StraightPiece(3000.0)]
    curve = curve_of(survey(pieces, 96, "centre"))
    with pytest.raises(DrawingInputError, match="runs into itself"):
        standing_svg(wall(curve), title="Knot")
    assert "In plan." in thumbnail_svg(wall(curve), title="Knot").svg


def test_a_level_arc_is_drawn_as_part_of_an_ellipse_half_as_high_as_wide():
    result = re.findall(r"A([\d.]+) ([\d.]+) 0", standing_svg(wall(dental()), title="Screen").svg)
    assert result and all(float(high) == pytest.approx(float(wide) / 2, abs=0.001) for wide, high in result)


def test_a_drawing_names_itself_for_readers_who_cannot_see_it():
    root = parsed(standing_svg(wall(dental()), title="Reception screen").svg)
    assert root.find(f"{SVG}title").text == "Reception screen"
    message = root.find(f"{SVG}desc").text
    assert message.startswith("Standing, seen from the concave side. Height 9' 0\". Doorway: 3' 2-1/2\"")


def test_walls_together_stand_at_one_scale_in_the_room_they_have():
    """In rows no wider than the sheet and together no higher; a wall that runs into itself is left out."""
    walls = [(wall(WALLS[name]()), name) for name in ("dental", "boutique", "library", "kinked")]
    pictures = standing_together(walls, system="imperial", width_mm=174, max_height_mm=112)
    assert [title for title, _ in pictures] == ["dental", "boutique", "library", "kinked"]
    assert len({picture.ratio for _, picture in pictures}) == 1
    alone = standing_together(walls[:1], system="imperial", width_mm=174, max_height_mm=112)
    assert alone[0][1].ratio < pictures[0][1].ratio
    assert max(picture.width_mm for _, picture in pictures) <= 174
    assert sum(picture.height_mm for _, picture in pictures[::2]) <= 112 + 14
