"""How the firm and its suppliers stand on papers, and the sheet it prints on."""

from catalog.core.materials.specs import Firm, Supplier
from quoting.platform.papers.parts import Party, SheetSize


def firm_party(firm: Firm) -> Party:
    lines = [*firm.address.splitlines(), *firm.contact.splitlines()]
    return Party(firm.name, tuple(line.strip() for line in lines if line.strip()))


def supplier_party(supplier: Supplier) -> Party:
    """Whom to ask for, and the number we have with them."""
    account = f"Our account {supplier.account_number}" if supplier.account_number else ""
    known = (supplier.contact, supplier.phone, supplier.email, account)
    return Party(supplier.name, tuple(text for text in known if text))


def sheet_size(firm: Firm) -> SheetSize:
    return "letter" if firm.display_units == "imperial" else "a4"
