from quoting.job_money.models.quoted_sides import QuotedSide
from quoting.job_money.models.said_to_go import How, SaidLeft
from quoting.job_money.models.warning_limits import MoneyLimits

__all__ = ["How", "MoneyLimits", "QuotedSide", "SaidLeft"]
