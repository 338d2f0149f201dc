"""The firm and its standards: two values, one object of documents."""

from __future__ import annotations

from dataclasses import dataclass

from catalog.core.ground.declared import Document, Refs, Schema, Schemas, build, read, read_fields, write_fields
from catalog.core.ground.document_reader import Reader, read_all
from catalog.core.materials.specs import Firm
from catalog.core.materials.standards import Standards


@dataclass(frozen=True)
class FirmWithStandards:
    """The firm itself."""

    document_name = "firm"

    firm: Firm
    standards: Standards

    @classmethod
    def from_document(cls, reader: Reader) -> FirmWithStandards:
        """Standards the document does not state come from the starter set, with their sources."""
        values = read_all(
            firm=lambda: read_fields(Firm, reader, whole=False), standards=lambda: read(Standards, reader)
        )
        reader.finish()
        return cls(build(Firm, reader, values["firm"]), values["standards"])

    def to_document(self) -> Document:
        """The firm and every standard in force, as a document that reads back the same."""
        return write_fields(self.firm) | write_fields(self.standards)

    @classmethod
    def document_schema(cls, schema: Schema, refs: Refs) -> Schema:
        assert isinstance(refs, Schemas)
        firm, standards = refs.object(Firm), refs.object(Standards)
        return firm | {"properties": firm["properties"] | standards["properties"]}
