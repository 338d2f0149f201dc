from quoting.pricing.models.allowances import AllowanceEntry
from quoting.pricing.models.checklist import ChecklistAnswer
from quoting.pricing.models.costs import CostEntry
from quoting.pricing.models.margin_approvals import MarginApproval
from quoting.pricing.models.options import OptionEntry
from quoting.pricing.models.pricing import Pricing
from quoting.pricing.models.tax import LabourRate, TaxRate
from quoting.pricing.models.terms import DepositTerm, InstalmentTerm, QuoteText

__all__ = [
    "AllowanceEntry",
    "ChecklistAnswer",
    "CostEntry",
    "DepositTerm",
    "InstalmentTerm",
    "LabourRate",
    "MarginApproval",
    "OptionEntry",
    "Pricing",
    "QuoteText",
    "TaxRate",
]
