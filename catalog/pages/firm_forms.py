from typing import Any

from babel import Locale
from babel.numbers import get_territory_currencies
from django import forms
from django.conf import settings

from catalog.core.materials import specs
from catalog.core.materials.specs import ROLES, ROLES_OF_SEVERAL
from catalog.core.materials.standards import SpacingStep
from catalog.models import Firm, Material
from catalog.models.firm import SYSTEMS
from catalog.pages.words import SURENESS_CHOICES
from quoting.platform.pages.declared_fields import form_of
from quoting.platform.pages.entry_form import EntryForm, pick

# Where a new firm is shown feet and inches until it says otherwise.
FEET_AND_INCHES = ("US", "CA")
# Every name of the IANA database but old short ones such as GB; a firm that has one of those keeps it.
ZONES = ["UTC", *sorted(zone for zone in specs.known_zones() if "/" in zone)]
# Where a new firm starts from, in sight on the form: common practice, ours.
USUAL_DAYS = {"cushion_workdays": 3, "sign_off_workdays": 5}
PARTICULARS = ("name", "address", "contact", "time_zone", "currency", "display_units", *USUAL_DAYS)


class FirmForm(form_of(specs.Firm, *PARTICULARS, words={"display_units": dict(SYSTEMS)})):
    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        own = self.initial.get("time_zone")
        among = ZONES if own in ("", None, *ZONES) else [own, *ZONES]
        zone = pick("Time zone", ((zone, zone.replace("_", " ")) for zone in among), "A day begins and ends by it.")
        zone.choices, zone.required = [("", "Choose one"), *zone.choices], False
        self.fields["time_zone"] = zone


def firm_entry(row: Firm | None) -> dict[str, Any]:
    if row is not None:
        return {name: getattr(row, name) for name in PARTICULARS}
    place = Locale.parse(settings.MONEY_LOCALE).territory
    currencies = get_territory_currencies(place) if place else []
    return USUAL_DAYS | {
        "display_units": "imperial" if place in FEET_AND_INCHES else "metric",
        "time_zone": "" if settings.TIME_ZONE == "UTC" else settings.TIME_ZONE,
        "currency": next(iter(currencies), ""),
    }


class KitForm(EntryForm):
    """A field for every role, each offering the materials of the kind the role needs."""

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        rows = list(Material.objects.order_by("code"))
        for role, (kind, label) in ROLES.items():
            chosen = self.initial.get(role) or ()
            among = [(row.code, row.name) for row in rows if row.kind == kind and (row.active or row.code in chosen)]
            several = forms.MultipleChoiceField(label=label, choices=among, widget=forms.CheckboxSelectMultiple)
            self.fields[role] = several if role in ROLES_OF_SEVERAL else pick(label, among, nothing="nothing")
            self.fields[role].required = False

    def lines(self) -> list[tuple[Any, str]]:
        """Each field with the names of what is chosen."""
        names = dict(Material.objects.values_list("code", "name"))
        chosen = ((field, field.value() or ()) for field in self if not field.is_hidden)
        codes = ((field, (value,) if isinstance(value, str) else value) for field, value in chosen)
        return [(field, "; ".join(names.get(code, code) for code in those)) for field, those in codes]


class StepForm(form_of(SpacingStep, "from_radius", "spacing", "source")):
    sure = pick("How sure", SURENESS_CHOICES, nothing="Choose one")
