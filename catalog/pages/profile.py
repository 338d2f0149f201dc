"""The entries of a profile card."""

from typing import Any

from django.http import HttpRequest, HttpResponse

from catalog.core.ground.declared import entries_of, write
from catalog.core.ground.units import System
from catalog.core.materials import specs
from catalog.core.materials.profiles import ProfileCard
from catalog.models import Firm
from catalog.models.facts import SURENESS_LABELS
from catalog.pages.materials import material_row, save_and_return
from catalog.pages.profile_card import GRADE_WORDS
from catalog.pages.words import FORM_WORDS, POSITION_WORDS, bare_unit_of, bare_unit_words, length_entry, system_of
from catalog.services import entries
from quoting.platform.pages.declared_fields import form_of
from quoting.platform.pages.entry_form import text
from quoting.platform.pages.stored_values import Stored

DECLARED = ("shape", "forms", "grades", "positions", "splice", "limits_source", "limits_sure")
WORDS = {"forms": FORM_WORDS, "grades": GRADE_WORDS, "positions": POSITION_WORDS, "limits_sure": SURENESS_LABELS}


class ProfileForm(form_of(ProfileCard, *DECLARED, words=WORDS)):
    declares = ProfileCard
    section = text("Section", longest=20_000, rows=6)
    limits = text("Limits by width", longest=4_000, rows=4)
    folds = {"Used as": ("positions",), "Limits by width": ("limits", "limits_source", "limits_sure")}
    field_order = ("shape", "forms", "grades", "positions", "splice", "section", "limits")

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
        result: dict[str, Any] = self.entries()
        for name, shaped in (("section", list), ("limits", _limit)):
            if name in result:
                lines = (line.split(";") for line in result[name].splitlines() if line.strip())
                result[name] = [shaped([part.strip() for part in line]) for line in lines]
        return result or None


def _limit(parts: list[str]) -> dict[str, str]:
    known = [entry.name for entry in entries_of(specs.WidthLimit)]
    names = [*known, *(f"figure {number}" for number in range(len(known) + 1, len(parts) + 1))]
    return {name: part for name, part in zip(names, parts, strict=False) if part}


def profile_set(request: HttpRequest, material_id: int) -> HttpResponse:
    row, firm = material_row(material_id), Firm.objects.first()
    card, system = row.to_core().profile or ProfileCard(), system_of(firm)
    entered = {name: value or "" for name, value in write(card).items()} | {
        "section": "\n".join("; ".join(length_entry(value, system) for value in corner) for corner in card.section),
        "limits": "\n".join(_entry(limit, system) for limit in card.limits),
    }
    form = ProfileForm(request.POST or None, Stored(entered, row, request.path), firm)

    def save() -> None:
        entries.change_material(row.code, {"profile": form.document()}, bare_unit_of(firm))

    return save_and_return(request, form, row, save, heading=f"Profile card of {row.name}", saved="The card is saved.")


def _entry(limit: specs.WidthLimit, system: System) -> str:
    values = (getattr(limit, entry.field) for entry in entries_of(specs.WidthLimit))
    return "; ".join("" if value is None else length_entry(float(value), system) for value in values).rstrip("; ")
