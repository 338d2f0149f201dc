"""How the firm stands on its papers: name, address and the sheet it prints on."""

from catalog.core.materials.specs import Firm
from quoting.platform.papers.parts import Party, SheetSize


def firm_party(firm: Firm) -> Party:
    lines = [*firm.address.splitlines(), *firm.contact.splitlines()]
    return Party(firm.name, tuple(line.strip() for line in lines if line.strip()))


def sheet_size(firm: Firm) -> SheetSize:
    return "letter" if firm.display_units == "imperial" else "a4"
