"""Other ways to build the same walls, as a document says them: layers and boards, finish levels, profiles of trim."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from typing import Annotated

from catalog.core.ground.declared import (
    As,
    Declared,
    Document,
    Items,
    Kind,
    Refs,
    Schema,
    Text,
    Whole,
    Writing,
    build,
    read,
    read_fields,
    write,
)
from catalog.core.ground.document_reader import DocumentError, DocumentProblem, Reader
from catalog.core.materials.profiles import TrimForm
from jobs.core.measure.curve import Face
from jobs.core.measure.wall_spec import Position

MAX_LAYERS = 8
"""As many as a wall's own document takes on a face."""

MAX_VARIANTS = 3
MAX_CHANGES = 200
MAX_NAME_LENGTH = 60


@dataclass(frozen=True)
class FaceChange:
    """What is changed of faces."""

    wall: Annotated[str | None, "Key of the wall; null for every wall."] = None
    face: Annotated[Face | None, "The face; null for all that are meant."] = None
    layers: Annotated[
        int | None,
        Whole(1, MAX_LAYERS),
        "How many layers; fewer keeps those against the framing, more repeats the outermost.",
    ] = None
    board: Annotated[str | None, "Code of the board every layer is of."] = None
    level: Annotated[int | None, Whole(0, 5), "Finish level, 0 to 5 (GA-214)."] = None

    @classmethod
    def from_document(cls, reader: Reader) -> FaceChange:
        change = build(cls, reader, read_fields(cls, reader))
        if (change.layers, change.board, change.level) == (None, None, None):
            raise reader.error("", "changes nothing; say layers, board or level")
        return change


@dataclass(frozen=True)
class TrimChange:
    """What is changed of runs of trim."""

    wall: Annotated[str | None, "Key of the wall; null for every wall."] = None
    face: Annotated[Face | None, "The face; null for all that are meant."] = None
    position: Annotated[Position | None, "Where it runs; null for all."] = None
    material: Annotated[str | None, "Code of the profile."] = None
    form: Annotated[TrimForm | None, "How it comes."] = None

    @classmethod
    def from_document(cls, reader: Reader) -> TrimChange:
        change = build(cls, reader, read_fields(cls, reader))
        if (change.material, change.form) == (None, None):
            raise reader.error("", "changes nothing; say material or form")
        return change


@dataclass(frozen=True)
class Variant:
    """A way to build the job: a name, and the changes that make it, in the order they are applied."""

    document_name = "build_variant"

    name: Annotated[str, Text(MAX_NAME_LENGTH), "What it is called, its own."]
    faces: Annotated[
        tuple[FaceChange, ...], Items(Declared(FaceChange), MAX_CHANGES), "Changes of faces, in order."
    ] = ()
    trims: Annotated[
        tuple[TrimChange, ...], Items(Declared(TrimChange), MAX_CHANGES), "Changes of trim, in order."
    ] = ()

    @classmethod
    def from_document(cls, reader: Reader) -> Variant:
        return _changing(build(cls, reader, read_fields(cls, reader)), reader)


class Changes(Kind):
    """What a variant changes, without its name."""

    def read(self, reader: Reader, name: str) -> Variant:
        inner = reader.object(name)
        return _changing(build(Variant, inner, read_fields(_Unnamed, inner) | {"name": ""}), inner)

    def write(self, value: Variant, how: Writing) -> Document:
        return changes_document(value)

    def schema(self, refs: Refs) -> Schema:
        return refs.declared(_Unnamed)


@dataclass(frozen=True)
class _Unnamed(Variant):
    """Another way to build the walls; its price difference is the option's price."""

    document_name = "build"
    name: Annotated[str, As(aside=True)] = ""


def changes_document(variant: Variant) -> Document:
    """What a variant changes, without its name.

    >>> changes_document(Variant("Two"))
    {'faces': [], 'trims': []}
    """
    return {name: part for name, part in write(variant).items() if name != "name"}


def variant_of(changes: Document, name: str) -> Variant:
    """A variant of that name from what `changes_document` wrote. Raises DocumentError."""
    return replace(Changes().read(Reader({"build": changes}), "build"), name=name)


def _changing(variant: Variant, reader: Reader) -> Variant:
    if not variant.faces and not variant.trims:
        raise reader.error("", "changes nothing; say what is to be built another way")
    return variant


def read_variants(reader: Reader) -> tuple[Variant, ...]:
    """Read `variants` of a document.

    reader: holds `variants`, 1 to 3 of them, each with its own `name` and `faces` or `trims`. Returns them in order;
    raises DocumentError naming each entry that is wrong, one that changes nothing included.

    >>> entry = {"name": "Two layers", "faces": [{"layers": 2}]}
    >>> read_variants(Reader({"variants": [entry]}))[0].faces[0].layers
    2
    """
    variants = reader.items("variants", partial(read, Variant), most=MAX_VARIANTS)
    if not variants:
        raise reader.error("variants", f"name 1 to {MAX_VARIANTS} ways to build it")
    names = [variant.name for variant in variants]
    doubled = [place for place, name in enumerate(names) if name in names[:place]]
    if doubled:
        raise DocumentError(
            DocumentProblem(
                reader.where(f"variants[{place}].name"), f'"{names[place]}" is there twice; give each its own'
            )
            for place in doubled
        )
    return variants
