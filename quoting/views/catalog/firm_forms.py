import re
from collections.abc import Sequence
from typing import Any

from django import forms
from django.http import QueryDict

from catalog.core.reading import DocumentError
from catalog.core.specs import ROLES
from catalog.core.standards import SpacingStep
from catalog.models import Firm, Material
from catalog.models.firm import SYSTEMS
from quoting.views.catalog.words import SURENESS_CHOICES, bare_unit_words, length_entry, system_of
from quoting.views.entry_form import EntryForm, pick, sentence, text

SEVERAL = "board_screw"
MOST_STEPS = 40
SPARE_STEPS = 2


class FirmForm(EntryForm):
    name = text("Name", "As it stands at the head of every paper.", longest=200)
    address = text("Address", rows=3)
    contact = text("Telephone and e-mail", "As papers print them.", rows=2)
    time_zone = text("Time zone", "By its name in the IANA database, such as Europe/Lisbon.", longest=60)
    currency = text("Currency", "Its ISO 4217 code: three capital letters, such as EUR.", longest=10)
    display_units = pick("Units shown", SYSTEMS, "Either may be typed anywhere.")
    cushion_workdays = text(
        "Cushion, working days",
        "Items are on site this long before they are needed, unless they say otherwise.",
        longest=10,
    )
    sign_off_workdays = text(
        "Sign-off, working days",
        "For a client to decide before an order goes out, unless an item says otherwise.",
        longest=10,
    )

    def changes(self) -> dict[str, Any]:
        found = self.entries()
        return {name: found.get(name) for name in self.fields}


def firm_entry(row: Firm | None) -> dict[str, Any]:
    if row is None:
        return {"display_units": "imperial"}
    return {name: getattr(row, name) for name in FirmForm.base_fields}


class KitForm(EntryForm):
    """A field for every role, each offering the materials of the kind the role needs."""

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        rows = list(Material.objects.order_by("code"))
        for role, (kind, label) in ROLES.items():
            fit = [row for row in rows if row.kind == kind and (row.active or self._chosen(role, row))]
            among = [(row.code, row.name) for row in fit]
            self.fields[role] = self._field(role, label, among)

    def _chosen(self, role: str, row: Material) -> bool:
        chosen = self.initial.get(role, "")
        return row.code in chosen if isinstance(chosen, list) else row.code == chosen

    @staticmethod
    def _field(role: str, label: str, among: list[tuple[str, str]]) -> forms.Field:
        if role != SEVERAL:
            field: forms.Field = pick(label, among, nothing="None")
        else:
            hint = "Tick all that are kept; the shortest that reaches is used."
            field = forms.MultipleChoiceField(
                label=label, choices=among, help_text=hint, widget=forms.CheckboxSelectMultiple
            )
        field.required = False
        return field

    @staticmethod
    def offered(kit: dict[str, tuple[str, ...]]) -> dict[str, Any]:
        return {role: list(codes) if role == SEVERAL else codes[0] for role, codes in kit.items()}


class StepForm(EntryForm):
    from_radius = text("From this radius", longest=40)
    spacing = text("Studs at most apart", longest=40)
    source = text("Source")
    sure = pick("How sure", SURENESS_CHOICES, nothing="Choose one")


class SpacingRows:
    """The spacing table as rows of fields; an empty row is no step."""

    def __init__(self, data: QueryDict | None, steps: Sequence[SpacingStep], firm: Firm) -> None:
        self.unit_words = bare_unit_words(firm)
        self.is_bound = data is not None
        self.faults: list[str] = []
        system = system_of(firm)
        offered = [
            {
                "from_radius": length_entry(step.from_radius_mm, system),
                "spacing": length_entry(step.spacing_mm, system),
                "source": step.source,
                "sure": step.sure,
            }
            for step in steps
        ]
        count = len(offered) + SPARE_STEPS if data is None else _count(data)
        self.forms = [
            StepForm(data, initial=offered[place] if place < len(offered) else {}, prefix=f"step{place}")
            for place in range(count)
        ]

    def is_valid(self) -> bool:
        # Every form is asked, so that every fault is shown.
        answers = [form.is_valid() for form in self.forms]
        return all(answers)

    @property
    def filled(self) -> list[StepForm]:
        return [form for form in self.forms if form.entries()]

    def entries(self) -> list[dict[str, Any]]:
        return [form.entries() for form in self.filled]

    def complain(self, error: DocumentError) -> None:
        filled = self.filled
        for one in error.complaints:
            place = re.match(r"spacing_steps\[(\d+)\]\.(.*)", one.path)
            if place:
                filled[int(place[1])].complain(DocumentError([type(one)(place[2], one.reason)]))
            else:
                self.faults.append(sentence("", one))

    def status(self) -> int:
        return 422 if self.is_bound and (self.faults or any(form.errors for form in self.forms)) else 200


def _count(data: QueryDict) -> int:
    places = [int(found[1]) for name in data if (found := re.match(r"step(\d{1,3})-", name))]
    return min(max(places, default=0) + 1, MOST_STEPS)
