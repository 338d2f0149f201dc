from quoting.job_money.models.quoted_sides import QuotedSide
from quoting.job_money.models.said_to_go import SaidLeft

__all__ = ["QuotedSide", "SaidLeft"]
