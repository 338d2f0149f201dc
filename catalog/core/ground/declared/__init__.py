"""A field is declared once, on its dataclass; readers, writers, schemas and form fields are derived from it.

    @dataclass(frozen=True)
    class Price:
        amount: Annotated[Decimal, Money(), "Price of one pack."]
        starts_on: Annotated[date, "The first day it holds."]
        source: Annotated[str, "Where it was read."] = ""
        held_until: Annotated[date | None, "Until when it is held."] = None

`Annotated` holds the kind (bounds, unit), where the type alone does not say it; a description; and `As(...)`: another
name, example, withheld. A field without a default is needed. `read`, `write`, `entries_of`: documents.py;
`Schemas`: schemas.py; the kinds: kinds.py; answers that show a value of another form: `View` and `Of`, views.py.
A `Constant` may be a `ClassVar`: it stands in documents and is not part of the value. What a field without `init` works
out of the others is written and passed over in reading.
A class whose document has another form has `from_document(reader)` (with `read_fields` and `build`), `to_document()`
(with `write_fields`), `document_schema(schema, refs)`.
Files: `quoting.core.quotes.file_schemas` lists the classes of fixtures/schema, and `manage.py schemas` writes them. The
API: `shown`, `answer_shapes` and `request_shapes` of `quoting.platform.api.declared`. Pages: an
`EntryForm` `declares` the class it fills. A value made in a program is judged by `check` in its `__post_init__`.

Compared on 1 Dec 2026 for this: a pack of 20 prices read, and one with five faults in it (four fields, one unknown).
pydantic 2.14: all 5 faults, 21 us; 9.6 MB in the core, 3 of 5 sentences without the value. cattrs 26.2 over attrs:
3 of 5 faults, bounds by hand, 27 us; 1.3 MB. msgspec 0.23: the first fault only, 8 us; 0.7 MB. DRF dataclass
serializers would bring Django into the core. The reader there was, driven by these declarations: all 5, each with its
value and what would be right, 260 us (as by hand), no dependency, mypy sees plain dataclasses. Most of that time
goes into figures as people type them (units, fractions, money as printed), which each of the others would be
given as hooks. A work-up of the job takes a thousand times as long.
"""

from catalog.core.ground.declared.checks import check
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
    Area,
    Choice,
    Constant,
    Coordinate,
    Count,
    Custom,
    Day,
    Email,
    Exact,
    Figure,
    Flag,
    Items,
    Kind,
    Length,
    Mapped,
    Measured,
    Moment,
    Money,
    Month,
    Number,
    Part,
    Plain,
    Real,
    Refs,
    Schema,
    Stripped,
    Text,
    TimeOfDay,
    Whole,
    Words,
    Writing,
    or_null,
    write_length,
)
from catalog.core.ground.declared.schemas import Schemas, schema_name
from catalog.core.ground.declared.views import (
    NOTHING,
    Degrees,
    InWords,
    Named,
    Numbered,
    Of,
    Rounded,
    TextOrNull,
    View,
    itself,
)

__all__ = [
    "NOTHING",
    "Amount",
    "Angle",
    "Area",
    "As",
    "Choice",
    "Constant",
    "Coordinate",
    "Count",
    "Custom",
    "Day",
    "Declared",
    "Degrees",
    "Document",
    "Email",
    "Entry",
    "Exact",
    "Figure",
    "Flag",
    "InWords",
    "Items",
    "Kind",
    "Length",
    "Mapped",
    "Measured",
    "Moment",
    "Money",
    "Month",
    "Named",
    "Number",
    "Numbered",
    "Of",
    "OneOf",
    "Part",
    "Plain",
    "Real",
    "Refs",
    "Rounded",
    "Schema",
    "Schemas",
    "Stripped",
    "Text",
    "TextOrNull",
    "TimeOfDay",
    "View",
    "Whole",
    "Words",
    "Writing",
    "build",
    "check",
    "entries_of",
    "entry_of",
    "itself",
    "or_null",
    "read",
    "read_fields",
    "schema_name",
    "write",
    "write_fields",
    "write_length",
]
