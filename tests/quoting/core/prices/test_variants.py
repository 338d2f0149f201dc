"""A job built another way: what is changed, what stays, and what is refused."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from catalog.core.ground.declared import write
from catalog.core.ground.document_reader import DocumentError, Reader
from jobs.core.measure.findings import Override
from quoting.core.prices.variants import FaceChange, TrimChange, Variant, read_variants
from quoting.core.quotes.job_file import JobFile
from quoting.core.quotes.rebuilding import rebuild
from tests.documents import job_file

DENTAL = job_file("larkmoor-dental")
WALL = DENTAL.job.walls[0]
CHILDCARE = job_file("brightwell-childcare")


def built(read: JobFile, *changes: FaceChange | TrimChange) -> JobFile:
    return rebuild(read, of(*changes)).read


def of(*changes: FaceChange | TrimChange) -> Variant:
    faces = tuple(change for change in changes if isinstance(change, FaceChange))
    return Variant("Other", faces, tuple(change for change in changes if isinstance(change, TrimChange)))


def decided(*keys: str) -> tuple[Override, ...]:
    return tuple(Override(key, "seen on site", "R. Sallow", "2026-11-20") for key in keys)


def paths(read: JobFile, *changes: FaceChange | TrimChange) -> list[str]:
    with pytest.raises(DocumentError) as refused:
        rebuild(read, of(*changes), "variants[0]")
    return [complaint.path for complaint in refused.value.complaints]


def test_fewer_layers_keep_those_against_the_framing_and_more_repeat_the_outermost():
    layers = WALL.left.layers
    wall, three = (built(DENTAL, FaceChange(layers=count)).job.walls[0] for count in (1, 3))
    assert wall.left.layers == layers[:1]
    assert three.left.layers == (*layers, layers[-1])


def test_only_the_face_named_is_changed_and_everything_else_stays():
    wall = built(DENTAL, FaceChange(face="right", board="GB-38", level=3)).job.walls[0]
    assert {layer.board for layer in wall.right.layers} == {"GB-38"} and wall.right.level == 3
    assert replace(wall, right=WALL.right) == WALL


def test_only_the_wall_named_is_changed():
    key = CHILDCARE.job.walls[1].key
    rebuilt = rebuild(CHILDCARE, of(FaceChange(wall=key, level=2)))
    assert rebuilt.walls == (key,)
    assert [wall.left.level == 2 for wall in rebuilt.read.job.walls] == [False, True, False]


def test_a_face_without_board_is_left_bare():
    bare = replace(WALL, right=replace(WALL.right, layers=(), level=0))
    read = replace(DENTAL, job=replace(DENTAL.job, walls=(bare,)))
    assert built(read, FaceChange(layers=1)).job.walls[0].right == bare.right


def test_trim_is_swapped_where_it_runs():
    trims = built(DENTAL, TrimChange(face="left", position="base", form="template")).job.walls[0].trims
    expected = ["template" if run.face == "left" else run.form for run in WALL.trims]
    assert [run.form for run in trims] == expected and expected != [run.form for run in WALL.trims]


def test_changes_are_applied_in_their_order():
    wall = built(DENTAL, FaceChange(level=5), FaceChange(face="left", level=3)).job.walls[0]
    assert (wall.left.level, wall.right.level) == (3, 5)


def test_a_change_to_what_it_is_already_changes_no_wall():
    assert rebuild(DENTAL, of(FaceChange(face="left", level=WALL.left.level))).walls == ()


def test_decisions_are_left_behind_with_what_they_were_taken_about():
    about = {name: f"{WALL.key}/{name}" for name in ("left/layer-1/piece-1/bend", "right/tape", "studs", "trim-1")}
    wall = replace(WALL, overrides=decided(*about.values()))
    job = replace(DENTAL.job, walls=(wall,), overrides=decided(f"{WALL.key}/left/tape"))
    read = replace(DENTAL, job=job)

    def left(*changes: FaceChange | TrimChange) -> set[str]:
        return {override.key.removeprefix(f"{WALL.key}/") for override in rebuild(read, of(*changes)).left_behind}

    trim_of_left = {"trim-1"} if WALL.trims[0].face == "left" else set()
    assert left(FaceChange(face="left", layers=1)) == {"left/layer-1/piece-1/bend", "left/tape"} | trim_of_left
    assert left(FaceChange(face="right", level=2)) == {"right/tape"}
    assert left(TrimChange(form="template")) == {"trim-1"}


def test_decisions_left_behind_are_not_in_the_job_and_the_others_are():
    wall = replace(WALL, overrides=decided(f"{WALL.key}/left/layer-1/piece-1/bend", f"{WALL.key}/studs"))
    read = replace(DENTAL, job=replace(DENTAL.job, walls=(wall,)))
    overrides = built(read, FaceChange(layers=1)).job.walls[0].overrides
    assert [override.key for override in overrides] == [f"{WALL.key}/studs"]


@pytest.mark.parametrize(
    ("change", "path"),
    [
        (FaceChange(wall="nowhere", level=3), "variants[0].faces[0].wall"),
        (FaceChange(board="NO-SUCH"), "variants[0].faces[0].board"),
        (FaceChange(board=WALL.stud), "variants[0].faces[0].board"),
        (TrimChange(material=WALL.left.layers[0].board), "variants[0].trims[0].material"),
        (TrimChange(position="cap", form="stock"), "variants[0].trims[0].position"),
    ],
)
def test_what_the_job_does_not_have_is_named(change, path):
    assert paths(DENTAL, change) == [path]


@pytest.mark.parametrize(
    ("variants", "path"),
    [
        ([], "variants"),
        ([{"name": "x", "faces": [{"layers": 2}]}] * 4, "variants"),
        ([{"name": "x", "faces": [{"layers": 2}]}] * 2, "variants[1].name"),
        ([{"name": " ", "faces": [{"layers": 2}]}], "variants[0].name"),
        ([{"name": "x"}], "variants[0]"),
        ([{"name": "x", "faces": [{"wall": "screen"}]}], "variants[0].faces[0]"),
        ([{"name": "x", "faces": [{"layers": 0}]}], "variants[0].faces[0].layers"),
        ([{"name": "x", "faces": [{"layers": 9}]}], "variants[0].faces[0].layers"),
        ([{"name": "x", "faces": [{"level": 6}]}], "variants[0].faces[0].level"),
        ([{"name": "x", "faces": [{"face": "front", "level": 4}]}], "variants[0].faces[0].face"),
        ([{"name": "x", "trims": [{"position": "base"}]}], "variants[0].trims[0]"),
        ([{"name": "x", "trims": [{"form": "bent"}]}], "variants[0].trims[0].form"),
        ([{"name": "x", "colour": "red"}], "variants[0]"),
    ],
)
def test_a_wrong_entry_is_named(variants, path):
    with pytest.raises(DocumentError) as refused:
        read_variants(Reader({"variants": variants}))
    assert any(complaint.path.startswith(path) for complaint in refused.value.complaints)


FACE_CHANGES = st.builds(
    FaceChange,
    wall=st.none() | st.just("screen"),
    face=st.sampled_from([None, "left", "right"]),
    layers=st.integers(1, 8),
    board=st.none() | st.just("GB-14"),
    level=st.none() | st.integers(0, 5),
)
TRIM_CHANGES = st.builds(
    TrimChange,
    position=st.sampled_from([None, "base", "crown"]),
    form=st.sampled_from(["stock", "bendable", "pre_curved", "template"]),
)


@given(st.lists(FACE_CHANGES, min_size=1, max_size=4), st.lists(TRIM_CHANGES, max_size=3))
def test_a_variant_is_read_back_as_it_was_written(faces, trims):
    variant = Variant("Any", tuple(faces), tuple(trims))
    assert read_variants(Reader({"variants": [write(variant)]})) == (variant,)
