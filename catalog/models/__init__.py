from catalog.models.changes import CatalogChanges
from catalog.models.closures import Closure
from catalog.models.facts import MaterialFact, SpacingStep, Standard
from catalog.models.firm import Firm
from catalog.models.kit import KitEntry
from catalog.models.lead_terms import LeadTerm
from catalog.models.materials import Material
from catalog.models.order_terms import OrderTerms
from catalog.models.packs import Pack, Price
from catalog.models.planned_leads import PlannedLead
from catalog.models.suppliers import Supplier

__all__ = [
    "CatalogChanges",
    "Closure",
    "Firm",
    "KitEntry",
    "LeadTerm",
    "Material",
    "MaterialFact",
    "OrderTerms",
    "Pack",
    "PlannedLead",
    "Price",
    "SpacingStep",
    "Standard",
    "Supplier",
]
