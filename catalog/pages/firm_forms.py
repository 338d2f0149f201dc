from collections.abc import Sequence
from typing import Any
from zoneinfo import available_timezones

from babel import Locale
from babel.numbers import get_territory_currencies
from django import forms
from django.conf import settings
from django.http import QueryDict

from catalog.core.materials import specs
from catalog.core.materials.specs import ROLES
from catalog.core.materials.standards import SpacingStep
from catalog.models import Firm, Material
from catalog.models.firm import SYSTEMS
from catalog.pages.words import SURENESS_CHOICES, length_entry, system_of
from quoting.platform.pages.entry_form import EntryForm, pick, text
from quoting.platform.pages.entry_rows import EntryRows

SEVERAL = "board_screw"
# Where a new firm is shown feet and inches until it says otherwise.
FEET_AND_INCHES = ("US", "CA")


# Every name of the IANA database but old short ones such as GB; a firm that has one of those keeps it.
ZONES = ["UTC", *sorted(zone for zone in available_timezones() if "/" in zone)]


class FirmForm(EntryForm):
    declares = specs.Firm
    name = text("Name", "As it stands at the head of every paper.")
    address = text("Address", rows=3)
    contact = text("Telephone and e-mail", "As papers print them.", rows=2)
    time_zone = pick("Time zone", (), "Named by its largest town; a day begins and ends by it.")
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

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        own = self.initial.get("time_zone")
        among = ZONES if own in ("", None, *ZONES) else [own, *ZONES]
        named = ((zone, zone.replace("_", " ")) for zone in among)
        self.fields["time_zone"].choices = [("", "Choose one"), *named]  # type: ignore[attr-defined]


# Where a new firm starts from, in sight on the form: common practice, ours.
CUSHION_WORKDAYS, SIGN_OFF_WORKDAYS = 3, 5


def firm_entry(row: Firm | None) -> dict[str, Any]:
    if row is None:
        place = Locale.parse(settings.MONEY_LOCALE).territory
        currencies = get_territory_currencies(place) if place else []
        return {
            "display_units": "imperial" if place in FEET_AND_INCHES else "metric",
            "time_zone": "" if settings.TIME_ZONE == "UTC" else settings.TIME_ZONE,
            "currency": next(iter(currencies), ""),
            "cushion_workdays": CUSHION_WORKDAYS,
            "sign_off_workdays": SIGN_OFF_WORKDAYS,
        }
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
            field: forms.Field = pick(label, among, nothing="nothing")
        else:
            hint = "Tick all that are kept; the shortest that reaches and is for the steel is used."
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


def spacing_rows(data: QueryDict | None, steps: Sequence[SpacingStep], firm: Firm) -> EntryRows:
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
    return EntryRows(StepForm, "spacing_steps", data, offered)


def step_words(steps: Sequence[SpacingStep], firm: Firm) -> list[str]:
    system = system_of(firm)
    lengths = [(length_entry(step.from_radius_mm, system), length_entry(step.spacing_mm, system)) for step in steps]
    return [
        f"from {radius}: {spacing} ({step.source}, {step.sure})"
        for step, (radius, spacing) in zip(steps, lengths, strict=True)
    ]
