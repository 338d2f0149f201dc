"""A field is declared once, on its dataclass; readers, writers, schemas and form fields are derived from it.

    @dataclass(frozen=True)
    class Price:
        amount: Annotated[Decimal, Money(), "Price of one pack."]
        starts_on: Annotated[date, "The first day it holds."]
        source: Annotated[str, "Where it was read."] = ""
        held_until: Annotated[date | None, "Until when it is held."] = None

`Annotated` holds the kind (bounds, unit), where the type alone does not say it; a description; and `As(...)`: another
name, label, example, withheld. A field without a default is needed. `read`, `write`, `entries_of`: documents.py;
`Schemas`: schemas.py; the kinds: kinds.py. A class whose document has another form has `from_document(reader)` (with
`read_fields` and `build`), `to_document()` (with `write_fields`), `document_schema(schema, refs)`.
"""

from catalog.core.ground.declared.documents import (
    As,
    Declared,
    Document,
    Entry,
    OneOf,
    build,
    entries_of,
    entry_of,
    read,
    read_fields,
    write,
    write_fields,
)
from catalog.core.ground.declared.kinds import (
    Amount,
    Angle,
    Choice,
    Constant,
    Count,
    Custom,
    Day,
    Email,
    Figure,
    Flag,
    Items,
    Kind,
    Length,
    Mapped,
    Measured,
    Moment,
    Money,
    Number,
    Part,
    Plain,
    Text,
    TimeOfDay,
    Whole,
    Words,
    Writing,
    write_length,
)
from catalog.core.ground.declared.schemas import Schemas, schema_name

__all__ = [
    "Amount",
    "Angle",
    "As",
    "Choice",
    "Constant",
    "Count",
    "Custom",
    "Day",
    "Declared",
    "Document",
    "Email",
    "Entry",
    "Figure",
    "Flag",
    "Items",
    "Kind",
    "Length",
    "Mapped",
    "Measured",
    "Moment",
    "Money",
    "Number",
    "OneOf",
    "Part",
    "Plain",
    "Schemas",
    "Text",
    "TimeOfDay",
    "Whole",
    "Words",
    "Writing",
    "build",
    "entries_of",
    "entry_of",
    "read",
    "read_fields",
    "schema_name",
    "write",
    "write_fields",
    "write_length",
]
