"""The entries of a profile card."""

from typing import Any

from django.forms import CheckboxSelectMultiple, MultipleChoiceField
from django.http import HttpRequest, HttpResponse

from catalog.core.ground.declared import entries_of, write
from catalog.core.ground.units import System
from catalog.core.materials import specs
from catalog.core.materials.profiles import FORMS, GRADES, POSITIONS, ProfileCard
from catalog.models import Firm
from catalog.models.facts import SURENESS_CHOICES
from catalog.pages.materials import material_row, save_and_return
from catalog.pages.profile_card import GRADE_WORDS
from catalog.pages.words import FORM_WORDS, POSITION_WORDS, bare_unit_of, bare_unit_words, length_entry, system_of
from catalog.services import entries
from quoting.platform.pages.entry_form import EntryForm, pick, text
from quoting.platform.pages.stored_values import Stored


class ProfileForm(EntryForm):
    declares = ProfileCard
    shape = text("Shape", "The name of its section. Profiles of one shape stand in for each other.")
    forms = MultipleChoiceField(
        label="May be had", choices=[(form, FORM_WORDS[form]) for form in FORMS], widget=CheckboxSelectMultiple
    )
    grades = MultipleChoiceField(
        label="Grades", choices=[(grade, GRADE_WORDS[grade]) for grade in GRADES], widget=CheckboxSelectMultiple
    )
    positions = MultipleChoiceField(
        label="Used as",
        help_text="Profiles used alike are offered in each other's place.",
        choices=[(position, POSITION_WORDS.get(position, position)) for position in POSITIONS],
        widget=CheckboxSelectMultiple,
    )
    splice = text("Splices", "How two pieces are joined, such as: scarf at 45 degrees, glued and pinned.", rows=2)
    section = text("Section", longest=20_000, rows=6)
    limits = text("Limits by width", longest=4_000, rows=4)
    limits_source = text("Who states the limits", "Such as: the maker's sheet of March.")
    limits_sure = pick("How sure they are", SURENESS_CHOICES, nothing="not said")

    def __init__(self, data: Any, stored: Stored, firm: Firm | None) -> None:
        super().__init__(data, stored=stored)
        unit = bare_unit_words(firm)
        self.fields["section"].help_text = (
            f"One corner a line, going around: out from the back; up from the foot. In {unit} or with a unit. "
            "Such as 0; 0 then 1/2 in; 0."
        )
        self.fields["limits"].help_text = (
            "One row a line, narrowest first: up to this width; least radius flat; least radius on edge; flex tighter; "
            f"flex easier. In {unit} or with a unit; leave a figure empty where none is stated."
        )

    def document(self) -> dict[str, Any] | None:
        """The card, None when nothing is entered."""
        result = self.entries()
        if "section" in result:
            result["section"] = [_parted(line) for line in result["section"].splitlines() if line.strip()]
        if "limits" in result:
            rows = [_parted(line) for line in result["limits"].splitlines() if line.strip()]
            result["limits"] = [_limit(row) for row in rows]
        return result or None


def _parted(line: str) -> list[str]:
    return [part.strip() for part in line.split(";")]


def _limit(parts: list[str]) -> dict[str, str]:
    known = [entry.name for entry in entries_of(specs.WidthLimit)]
    names = [*known, *(f"figure {number}" for number in range(len(known) + 1, len(parts) + 1))]
    return {name: part for name, part in zip(names, parts, strict=False) if part}


def profile_set(request: HttpRequest, material_id: int) -> HttpResponse:
    row, firm = material_row(material_id), Firm.objects.first()
    card, system = row.to_core().profile or ProfileCard(), system_of(firm)
    document = write(card)
    entered = {name: "" if document[name] is None else document[name] for name in ProfileForm.base_fields} | {
        "section": "\n".join("; ".join(length_entry(value, system) for value in corner) for corner in card.section),
        "limits": "\n".join(_entry(limit, system) for limit in card.limits),
    }
    form = ProfileForm(request.POST or None, Stored(entered, row, request.path), firm)

    def save() -> None:
        entries.change_material(row.code, {"profile": form.document()}, bare_unit_of(firm))

    return save_and_return(request, form, row, save, heading=f"Profile card of {row.name}", saved="The card is kept.")


def _entry(limit: specs.WidthLimit, system: System) -> str:
    values = (getattr(limit, entry.field) for entry in entries_of(specs.WidthLimit))
    return "; ".join("" if value is None else length_entry(float(value), system) for value in values).rstrip("; ")
